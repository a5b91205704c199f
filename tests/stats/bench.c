/*
 * Times the statistics on one table: "name seconds" lines, each the mean of as many rounds as fit
 * into half a second. bench.R times GNU R on the same table and prints the ratios.
 */
#include <stdio.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/fit/model_average.h"
#include "stats/num/guard.h"
#include "stats/rank/ranking.h"
#include "table.h"

enum { ENOUGH_MS = 500 };

/* What one round works on, and where it leaves the number of subsets. */
struct job {
    struct frame f;
    struct model_matrix collapsed;
    size_t subsets;
};

static void run_full_fit(struct job *job)
{
    struct censored_data data;
    struct censored_fit fit = {0};
    size_t *columns = mem_zero(job->collapsed.p, sizeof *columns);
    struct censored_prior prior = {job->collapsed.lambda, CENSORED_CA, CENSORED_CB};
    struct censored_model model = {.columns = columns};

    model.count = model_matrix_columns(&job->collapsed, UINT64_MAX, columns);
    censored_data_make(&job->collapsed, &data);
    censored_fit(&data, &prior, &model, false, &fit);
    censored_fit_free(&fit);
    censored_data_free(&data);
    free(columns);
}

static void run_average(struct job *job)
{
    struct model_average a;

    if (model_average_make(&job->collapsed, NULL, &a, NULL) == 0) {
        job->subsets = a.count;
        model_average_free(&a);
    }
}

static void rank(struct job *job, bool intervals)
{
    struct ranking_options options = ranking_usual();
    struct ranking r;

    options.intervals = intervals;
    if (ranking_make(&job->f, &options, &r, NULL) == 0)
        ranking_free(&r);
}

static void run_rank(struct job *job)
{
    rank(job, false);
}

static void run_rank_with_intervals(struct job *job)
{
    rank(job, true);
}

static void time_one(const char *name, void (*run)(struct job *), struct job *job)
{
    int64_t start = clock_monotonic_ms(), spent = 0;
    int rounds = 0;

    for (; spent < ENOUGH_MS; rounds++) {
        run(job);
        spent = clock_monotonic_ms() - start;
    }
    printf("%s %.9g\n", name, (double)spent / 1000 / rounds);
}

int main(int argc, char **argv)
{
    char *text = argc > 2 ? table_read_file(argv[1]) : NULL;
    struct job job = {0};
    struct model_matrix c;
    struct error e = {0};

    guard_start();
    if (text == NULL) {
        fputs("bench TABLE RANGE\n", stderr);
        return 2;
    }
    table_to_frame(text, strtod(argv[2], NULL), &job.f);
    if (model_matrix_make(&job.f, &c, NULL, &e) != 0) {
        fprintf(stderr, "bench: %s\n", e.text);
        return 1;
    }
    collapse_rows(&c, &job.collapsed);
    time_one("full_fit", run_full_fit, &job);
    time_one("average", run_average, &job);
    time_one("rank", run_rank, &job);
    time_one("rank_with_intervals", run_rank_with_intervals, &job);
    printf("subsets %zu\ncells %zu\n", job.subsets, job.collapsed.n);
    model_matrix_free(&c);
    model_matrix_free(&job.collapsed);
    frame_free(&job.f);
    free(text);
    return 0;
}
