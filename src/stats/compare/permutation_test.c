#include "stats/compare/permutation_test.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/order.h"
#include "stats/num/random.h"

/* Coupons drawn in all samples together: about a second. */
#define SAMPLING_WORK 4e7

/* What is gathered over arrangements; `seen` and `most` are sizes of the difference. */
struct tally {
    double seen, max, tolerance;
    double extreme, at_most, total;
};

/* How many of the sorted `v` are below x, or at most x. */
static size_t count_below(const double *v, size_t n, double x, bool or_equal)
{
    size_t low = 0, high = n;

    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (v[middle] < x || (or_equal && v[middle] == x))
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/*
 * A coupon surely beats those whose upper limit is not above its lower one. Exact results of its
 * own value, itself among them, count both ways and cancel.
 */
static void gehan_scores(const struct measure *y, size_t n, double *scores)
{
    double *low = mem_zero(n, sizeof *low), *high = mem_zero(n, sizeof *high);

    for (size_t i = 0; i < n; i++) {
        low[i] = y[i].low;
        high[i] = y[i].high;
    }
    order_by_number(low, n, sizeof *low);
    order_by_number(high, n, sizeof *high);
    for (size_t i = 0; i < n; i++) {
        double beaten = (double)count_below(high, n, y[i].low, true);
        double beaten_by = (double)(n - count_below(low, n, y[i].high, false));

        scores[i] = beaten - beaten_by;
    }
    free(low);
    free(high);
}

bool permutation_test_scores(const struct measure *y, size_t n, double *scores)
{
    bool exact = true;

    for (size_t i = 0; i < n; i++) {
        exact = exact && y[i].kind == MEASURE_EXACT;
        scores[i] = y[i].low;
    }
    if (!exact)
        gehan_scores(y, n, scores);
    return !exact;
}

static double arrangements(size_t a, size_t b)
{
    size_t small = a < b ? a : b;
    double c = 1;

    for (size_t i = 1; i <= small; i++)
        c = c * (double)(a + b - small + i) / (double)i;
    return c < 0x1p53 ? round(c) : c;
}

double permutation_test_smallest(size_t a, size_t b)
{
    if (a == 0 || b == 0)
        return 1;
    return fmin(1, (a == b ? 2 : 1) / arrangements(a, b));
}

static void tally_add(struct tally *t, double sum)
{
    double size = fabs(sum);

    t->total++;
    t->extreme += size >= t->seen - t->tolerance;
    if (size > t->max + t->tolerance) {
        t->max = size;
        t->at_most = 1;
    } else {
        t->at_most += size >= t->max - t->tolerance;
    }
}

/*
 * Every choice of `take` of the n scores, in lexicographic order. partial[i] is the sum of the
 * first i chosen, so that a step costs only what it changes: about one addition on average. The
 * first choice is chosen[1]; chosen[0] = n stands for none before it and is never the last place.
 */
static void count_all(const double *scores, size_t n, size_t take, struct tally *t)
{
    size_t *chosen = mem_zero(take + 2, sizeof *chosen), at = 1;
    double *partial = mem_zero(take + 1, sizeof *partial);

    for (chosen[0] = n; at > 0; chosen[at]++) {
        for (; at <= take; at++) {
            partial[at] = partial[at - 1] + scores[chosen[at]];
            chosen[at + 1] = chosen[at] + 1;
        }
        tally_add(t, partial[take]);
        for (at = take; chosen[at] == n - take + at - 1; at--)
            ;
    }
    free(chosen);
    free(partial);
}

static void draw_some(const double *scores, size_t n, size_t take, size_t draws, uint64_t seed,
                      struct tally *t)
{
    struct random random = random_seeded(seed);
    size_t *order = order_identity(n);

    for (size_t d = 0; d < draws; d++) {
        double sum = 0;

        random_deal(&random, order, n, take);
        for (size_t i = 0; i < take; i++)
            sum += scores[order[i]];
        tally_add(t, sum);
    }
    free(order);
}

/* Scores less their mean, so that a group's sum is its difference from what is expected of it.
 * Returns how far apart two sums may lie and still count as equal. */
static double centre(double *scores, size_t n)
{
    double mean = 0, size = 0;

    for (size_t i = 0; i < n; i++)
        mean += scores[i] / (double)n;
    for (size_t i = 0; i < n; i++) {
        scores[i] -= mean;
        size += fabs(scores[i]);
    }
    return 1e-10 * size + 1e-13 * (double)n * fabs(mean);
}

/* The sum over the smaller group is the one that is moved about: the other is its opposite. */
static void count_arrangements(const double *scores, size_t n, size_t a_count,
                               struct permutation_test *out, struct tally *t)
{
    size_t take = a_count < n - a_count ? a_count : n - a_count;

    out->arrangements = arrangements(a_count, n - a_count);
    out->all = out->arrangements <= PERMUTATION_TEST_ALL;
    if (out->all) {
        count_all(scores, n, take, t);
        out->chance = t->extreme / t->total;
        out->smallest = t->at_most / t->total;
        return;
    }
    out->drawn = (size_t)fmin(PERMUTATION_TEST_DRAWS, SAMPLING_WORK / (double)take);
    draw_some(scores, n, take, out->drawn, out->seed, t);
    out->chance = (1 + t->extreme) / (1 + t->total);
    out->smallest = fmax(1 / (1 + t->total), permutation_test_smallest(a_count, n - a_count));
}

void permutation_test(const struct measure *a, size_t a_count, const struct measure *b,
                      size_t b_count, uint64_t seed, struct permutation_test *out)
{
    size_t n = a_count + b_count;
    struct measure *y = mem_zero(n, sizeof *y);
    double *scores = mem_zero(n, sizeof *scores), sum = 0;
    struct tally t = {0};

    assert(a_count > 0 && b_count > 0);
    memcpy(y, a, a_count * sizeof *y);
    memcpy(y + a_count, b, b_count * sizeof *y);
    *out = (struct permutation_test){.seed = seed};
    out->ranks = permutation_test_scores(y, n, scores);
    t.tolerance = centre(scores, n);
    for (size_t i = 0; i < a_count; i++)
        sum += scores[i];
    t.seen = fabs(sum);
    count_arrangements(scores, n, a_count, out, &t);
    free(y);
    free(scores);
}
