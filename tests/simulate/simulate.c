/*
 * The simulation study: how often the ranking is right, from trials with known drivers.
 *
 *     simulate_trials [--trials N] [--seed S] [--jobs J] [--check E]
 *
 * Trials go through the 540 kinds in turn, so N is best a multiple of 540; every CLOSELY-th round
 * is also looked at for combined effects and odd coupons, and followed by trials on what next
 * coupons are worth. A trial depends on the seed and its number alone: jobs (one a processor,
 * unless said) change the time, not the figures. With --check the targets are printed, and missing
 * one by more than E standard errors is a failure.
 */
#include <errno.h>
#include <getopt.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "further.h"
#include "pairs.h"
#include "report.h"
#include "scene.h"
#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "stats/rank/ranking.h"
#include "tally.h"

enum { CLOSELY = 4 };

struct settings {
    size_t trials, jobs;
    uint64_t seed;
    double check; /* standard errors; negative: no check */
};

/* A seed for every number (FNV-1a, 64 bits), so that a trial does not depend on those before it. */
static uint64_t seed_of(uint64_t seed, const void *bytes, size_t size)
{
    const unsigned char *p = bytes;
    uint64_t h = seed ^ 0xcbf29ce484222325u;

    for (size_t i = 0; i < size; i++)
        h = (h ^ p[i]) * 0x100000001b3u;
    return h;
}

static void one_trial(const struct settings *set, size_t number, struct tally *t)
{
    struct random r = random_seeded(seed_of(set->seed, &number, sizeof number));
    struct ranking_options options = ranking_usual();
    struct ranking ranking;
    struct scene scene;

    scene_make(number % SCENE_CELLS, &r, &scene);
    t->trials++;
    if (scene.broke < 2) {
        t->skipped++;
    } else if (ranking_make(&scene.f, &options, &ranking, NULL) < 0) {
        t->refused++;
    } else {
        tally_add(t, &scene, &ranking);
        if (number / SCENE_CELLS % CLOSELY == 0) {
            tally_add_closely(t, &scene, &ranking);
            pairs_trial(number, &r, t);
            further_trial(number, &r, t);
        }
        ranking_free(&ranking);
    }
    scene_free(&scene);
}

static void run_job(const struct settings *set, size_t job, struct tally *t)
{
    size_t done = 0, every = set->trials / set->jobs / 50 + 1;

    for (size_t i = job; i < set->trials; i += set->jobs) {
        one_trial(set, i, t);
        if (job == 0 && ++done % every == 0)
            fprintf(stderr, "\r%3.0f %%", 100 * (double)i / (double)set->trials);
    }
    if (job == 0)
        fputs("\r100 %\n", stderr);
}

static bool write_all(int file, const void *bytes, size_t size)
{
    const char *at = bytes;

    while (size > 0) {
        ssize_t wrote = write(file, at, size);

        if (wrote < 0 && errno == EINTR)
            continue;
        if (wrote <= 0)
            return false;
        at += wrote;
        size -= (size_t)wrote;
    }
    return true;
}

static bool read_all(int file, void *bytes, size_t size)
{
    char *at = bytes;

    while (size > 0) {
        ssize_t got = read(file, at, size);

        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0)
            return false;
        at += got;
        size -= (size_t)got;
    }
    return true;
}

/* Starts a process for one job; the tally comes back through *from. */
static pid_t start_job(const struct settings *set, size_t job, int *from)
{
    int ends[2];
    pid_t child;

    if (pipe(ends) < 0)
        return -1;
    child = fork();
    if (child == 0) {
        struct tally *t = calloc(1, sizeof *t);

        close(ends[0]);
        if (t == NULL)
            _exit(EXIT_FAILURE);
        run_job(set, job, t);
        _exit(write_all(ends[1], t, sizeof *t) ? EXIT_SUCCESS : EXIT_FAILURE);
    }
    close(ends[1]);
    *from = ends[0];
    return child;
}

static bool run_all(const struct settings *set, struct tally *total)
{
    int *from = calloc(set->jobs, sizeof *from);
    pid_t *child = calloc(set->jobs, sizeof *child);
    struct tally *one = calloc(1, sizeof *one);
    bool good = from != NULL && child != NULL && one != NULL;

    for (size_t j = 0; good && j < set->jobs; j++)
        child[j] = start_job(set, j, &from[j]);
    for (size_t j = 0; good && j < set->jobs; j++) {
        good = child[j] > 0 && read_all(from[j], one, sizeof *one);
        tally_merge(total, one);
        waitpid(child[j], NULL, 0);
    }
    free(from);
    free(child);
    free(one);
    return good;
}

static bool read_settings(int argc, char **argv, struct settings *set)
{
    static const struct option options[] = {{"trials", required_argument, NULL, 't'},
                                            {"seed", required_argument, NULL, 's'},
                                            {"jobs", required_argument, NULL, 'j'},
                                            {"check", required_argument, NULL, 'c'},
                                            {NULL, 0, NULL, 0}};
    int option;

    while ((option = getopt_long(argc, argv, "", options, NULL)) != -1) {
        if (option == '?')
            return false;
        if (option == 't')
            set->trials = strtoul(optarg, NULL, 10);
        if (option == 'j')
            set->jobs = strtoul(optarg, NULL, 10);
        if (option == 's')
            set->seed = strtoull(optarg, NULL, 10);
        if (option == 'c')
            set->check = strtod(optarg, NULL);
    }
    if (set->jobs == 0)
        set->jobs = (size_t)fmax(1, (double)sysconf(_SC_NPROCESSORS_ONLN));
    return optind == argc && set->trials > 0;
}

int main(int argc, char **argv)
{
    struct settings set = {27000, 0, 1, -1};
    struct tally total = {0};

    guard_start();
    if (!read_settings(argc, argv, &set)) {
        fputs("simulate_trials [--trials N] [--seed S] [--jobs J] [--check STANDARD_ERRORS]\n",
              stderr);
        return 2;
    }
    printf("seed %llu; ", (unsigned long long)set.seed);
    fflush(stdout);
    if (!run_all(&set, &total)) {
        fputs("simulate_trials: a job did not finish\n", stderr);
        return EXIT_FAILURE;
    }
    report_print(&total);
    return set.check < 0 || report_check(&total, set.check) ? EXIT_SUCCESS : EXIT_FAILURE;
}
