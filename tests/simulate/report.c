#include "report.h"

#include <math.h>
#include <stdio.h>

#include "further.h"

/* Which places of the tallies to take together: SIZE_MAX takes all. */
struct part {
    size_t size, kind, held;
};

static const size_t ALL = (size_t)-1;
enum { UP_TO_16 = 4 }; /* the first four sizes */

static bool inside(const struct part *p, size_t size, size_t kind, size_t held)
{
    return (p->size == ALL ? size < UP_TO_16 : size == p->size) &&
           (p->kind == ALL || kind == p->kind) && (p->held == ALL || held == p->held);
}

static double sum_of(const double (*places)[SCENE_KINDS][SCENE_HELD], const struct part *p)
{
    double sum = 0;

    for (size_t n = 0; n < SCENE_SIZES; n++)
        for (size_t k = 0; k < SCENE_KINDS; k++)
            for (size_t h = 0; h < SCENE_HELD; h++)
                sum += inside(p, n, k, h) ? places[n][k][h] : 0;
    return sum;
}

static double share(const double (*places)[SCENE_KINDS][SCENE_HELD], const struct tally *t,
                    size_t size, size_t kind, size_t held)
{
    const struct part p = {size, kind, held};

    return sum_of(places, &p) / sum_of(t->ranked, &p);
}

/* Sums over sizes and held shares; ALL takes every one, sizes without limit. */
static double sum_two(const double (*places)[SCENE_HELD], size_t size, size_t held)
{
    double sum = 0;

    for (size_t n = 0; n < SCENE_SIZES; n++)
        for (size_t h = 0; h < SCENE_HELD; h++)
            sum += (size == ALL || n == size) && (held == ALL || h == held) ? places[n][h] : 0;
    return sum;
}

static void print_rivals(const struct tally *t)
{
    puts("| order by (6 to 16 coupons) | first | first or second | first at 60 % held |");
    puts("|---|---|---|---|");
    for (size_t i = 0; i < RIVALS; i++)
        printf("| %s | %.3f | %.3f | %.3f |\n", rivals[i].name,
               share(t->first[i], t, ALL, ALL, ALL), share(t->second[i], t, ALL, ALL, ALL),
               share(t->first[i], t, ALL, ALL, 2));
}

static void print_row(const char *name, const struct tally *t, size_t size, size_t kind)
{
    printf("| %s | %.3f | %.3f | %.3f | %.3f | %.3f |\n", name,
           share(t->first[0], t, size, kind, ALL), share(t->second[0], t, size, kind, ALL),
           share(t->first[0], t, size, kind, 0), share(t->first[0], t, size, kind, 1),
           share(t->first[0], t, size, kind, 2));
}

static void print_parts(const struct tally *t)
{
    char name[40];

    puts("\n| | first | first or second | first, none held | 30 % held | 60 % held |");
    puts("|---|---|---|---|---|---|");
    for (size_t n = 0; n < SCENE_SIZES; n++) {
        snprintf(name, sizeof name, "%zu coupons", scene_sizes[n]);
        print_row(name, t, n, ALL);
    }
    for (size_t k = 0; k < SCENE_KINDS; k++) {
        snprintf(name, sizeof name, "%s, 6 to 16 coupons", scene_kinds[k]);
        print_row(name, t, ALL, k);
    }
}

static const struct {
    const char *range;
    enum sureness word;
} words[TALLY_WORDS] = {{"0.90 and more: clear", SURE_CLEAR},
                        {"0.75 to 0.90: likely", SURE_LIKELY},
                        {"0.50 to 0.75: a hint", SURE_HINT},
                        {"below 0.50: no sign", SURE_NO_SIGN}};

static void print_calibration(const struct tally *t)
{
    puts("\n| chance | variables | were drivers |\n|---|---|---|");
    for (size_t i = 0; i < TALLY_WORDS; i++)
        printf("| %s | %.0f | %.3f |\n", words[i].range, t->word[words[i].word],
               t->word_true[words[i].word] / t->word[words[i].word]);
    for (size_t b = TALLY_BINS; b-- > 0;)
        printf("| %.1f to %.1f | %.0f | %.3f |\n", (double)b / TALLY_BINS,
               (double)(b + 1) / TALLY_BINS, t->bin[b], t->bin_true[b] / t->bin[b]);
}

static void print_held_row(const char *name, const struct tally *t, size_t size)
{
    printf("| %s |", name);
    for (size_t h = 0; h <= SCENE_HELD; h++) {
        size_t held = h < SCENE_HELD ? h : ALL;

        printf(" %.3f |", sum_two(t->covered, size, held) / sum_two(t->interval, size, held));
    }
    printf(" %.2f %% | %.2f %% |\n",
           100 * sum_two(t->clear, size, ALL) / sum_two(t->empty, size, ALL),
           100 * sum_two(t->likely, size, ALL) / sum_two(t->empty, size, ALL));
}

static void print_intervals(const struct tally *t)
{
    char name[40];

    puts("\n| | 90 % interval of a driver covers, none held | 30 % held | 60 % held | all | no "
         "driver: some variable clear | likely or clear |");
    puts("|---|---|---|---|---|---|---|");
    for (size_t n = 0; n < SCENE_SIZES; n++) {
        snprintf(name, sizeof name, "%zu coupons", scene_sizes[n]);
        print_held_row(name, t, n);
    }
    print_held_row("all", t, ALL);
}

static void print_pairs(const struct tally *t)
{
    static const int coupons[PAIRS_SIZES] = {8, 12, 16, 24};

    printf(
        "\nCombined effects where none is real: looked for in %.0f of these trials (%.1f pairs "
        "each), some pair clear in %.2f %%, likely or clear in %.2f %%. Where half of the trials "
        "have one of 60 or 30 degrees (scatter 15):\n\n",
        t->pair_trials, t->pairs / t->pair_trials, 100 * t->pair_clear / t->pair_trials,
        100 * t->pair_likely / t->pair_trials);
    puts("| chance | pairs | were real |\n|---|---|---|");
    for (size_t i = 0; i < TALLY_WORDS; i++)
        printf("| %s | %.0f | %.3f |\n", words[i].range, t->pair_word[words[i].word],
               t->pair_word_true[words[i].word] / t->pair_word[words[i].word]);
    puts("\n| coupons | a combined effect of 60 degrees is called likely or clear |\n|---|---|");
    for (size_t i = 0; i < PAIRS_SIZES; i++)
        printf("| %d | %.2f |\n", coupons[i], t->pair_seen[i] / t->pair_real[i]);
}

static void print_further(const struct tally *t)
{
    printf(
        "\nThe driver is tied to another variable, wholly or but for one coupon (%.0f trials of 7 "
        "coupons); it is first after further coupons:\n\n",
        t->further);
    puts("| chosen | none yet | one | two | three |\n|---|---|---|---|---|");
    for (size_t w = 0; w < FURTHER_WAYS; w++) {
        printf("| %s |", further_ways[w]);
        for (size_t s = 0; s <= FURTHER_STEPS; s++)
            printf(" %.3f |", t->further_right[w][s] / t->further);
        putchar('\n');
    }
}

static void print_odd(const struct tally *t)
{
    printf(
        "\nOdd coupons, none of which is real: some coupon called odd in %.1f %% of %.0f trials. "
        "The order was steady in %.1f %%; the larger driver was then first in %.1f %%, else in "
        "%.1f %%.\n",
        100 * t->odd_called / t->odd_trials, t->odd_trials, 100 * t->steady / t->odd_trials,
        100 * t->steady_right / t->steady_driven, 100 * t->unsteady_right / t->unsteady_driven);
}

void report_print(const struct tally *t)
{
    printf("%.0f simulated trials, %.0f skipped with fewer than two broken coupons, %.0f could not "
           "be ranked.\n\n",
           t->trials, t->skipped, t->refused);
    print_rivals(t);
    print_parts(t);
    print_calibration(t);
    print_intervals(t);
    print_pairs(t);
    print_odd(t);
    print_further(t);
}

/* A share that has to lie between two bounds. */
static bool check(const char *what, double count, double of, double min, double max, double errors)
{
    double is = count / of, error = sqrt(fmax(is * (1 - is), 0.5 / of) / of);
    bool good = is >= min - errors * error && is <= max + errors * error;

    printf("%s: %.4f of %.0f, standard error %.4f, wanted %.2f to %.2f: %s\n", what, is, of, error,
           min, max, good ? "met" : "MISSED");
    return good;
}

bool report_check(const struct tally *t, double errors)
{
    const struct part p = {ALL, ALL, ALL};
    bool good = true;

    putchar('\n');
    good &= check("true driver first, 6 to 16 coupons", sum_of(t->first[0], &p),
                  sum_of(t->ranked, &p), 0.77, 1, errors);
    good &= check("chance of 0.90 and more was a driver", t->word_true[SURE_CLEAR],
                  t->word[SURE_CLEAR], 0.93, 1, errors);
    good &= check("90 % interval covers a driver", sum_two(t->covered, ALL, ALL),
                  sum_two(t->interval, ALL, ALL), 0.87, 0.93, errors);
    good &= check("no driver, yet a variable is clear", sum_two(t->clear, ALL, ALL),
                  sum_two(t->empty, ALL, ALL), 0, 0.02, errors);
    if (t->pair_trials > 0)
        good &= check("no combined effect, yet one is clear", t->pair_clear, t->pair_trials, 0,
                      0.02, errors);
    good &= check("a combined effect called clear is real", t->pair_word_true[SURE_CLEAR],
                  t->pair_word[SURE_CLEAR], 0.93, 1, errors);
    good &= check("no odd coupon, yet one is called odd", t->odd_called, t->odd_trials, 0, 0.10,
                  errors);
    return good;
}
