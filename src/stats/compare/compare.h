/*
 * Two techniques side by side: two levels of one variable, or two groups of coupons.
 *
 * The difference is b less a, from the same model as the ranking with one variable, "which group":
 * normal results, held ones honoured, a weak prior on scatter and difference (tau = 2, result in
 * units of R/6), given that there is one: its most likely value, as in the ranking, and the 5 and
 * 95 % points of its density. With few coupons it is drawn a little toward 0; where every result is
 * an exact number, the plain difference of means is given as well.
 */
#ifndef STATS_COMPARE_COMPARE_H
#define STATS_COMPARE_COMPARE_H

#include <stddef.h>
#include <stdint.h>

#include "base/error.h"
#include "stats/compare/permutation_test.h"
#include "stats/compare/survival.h"
#include "stats/data/frame.h"

struct compare_group {
    char *label;  /* "both sides", "20 to 25 V", "coupons 03, 07" */
    size_t *rows; /* rows of the frame, result known */
    size_t count;
    size_t broke, held;    /* exact; at least; the rest of `count` are at most or between */
    double mean;           /* under the fit, result's unit */
    double plain_mean;     /* of exact results; NAN when any is not */
    struct survival steps; /* share still unbroken */
};

struct comparison {
    struct compare_group a, b;
    double difference, low, high; /* b - a, 90 % interval, result's unit; NAN when nothing broke
                                   or all results are equal */
    double plain, plain_low, plain_high; /* difference of plain means with Student's 90 % interval
                                            (pooled scatter); NAN when any result is not exact or
                                            fewer than 3 coupons */
    double scatter;                      /* standard deviation within the groups under the fit */
    struct permutation_test permutation;
    double smallest;          /* permute_smallest(a.count, b.count) */
    struct log_rank log_rank; /* worth showing when anything was held */
};

struct comparison_list {
    struct comparison *items;
    size_t count, capacity;
};

/* Two groups of rows of the frame. ERROR_USAGE when a row is in both; ERROR_ANSWER when a group is
 * empty or has no result. Labels are copied. `out` is empty on error; else the caller frees it. */
int compare_groups(const struct frame *f, const size_t *a, size_t a_count, const char *a_label,
                   const size_t *b, size_t b_count, const char *b_label, uint64_t seed,
                   struct comparison *out, struct error *e);
/* Two values of a column: numbers in the frame's unit, or indexes of levels. Errors as above. */
int compare_values(const struct frame *f, size_t column, double a, double b, uint64_t seed,
                   struct comparison *out, struct error *e);
/*
 * Every pair of values of a column when it has at most 4 different ones among coupons with a
 * result. With more: a category's levels each against the one with most coupons; a number's lower
 * against its upper half (cut between the two middle coupons, equal values kept together). Refuses
 * a column with a single value.
 */
int compare_variable(const struct frame *f, size_t column, uint64_t seed,
                     struct comparison_list *out, struct error *e);

void comparison_free(struct comparison *c);
void comparison_list_free(struct comparison_list *list);

#endif
