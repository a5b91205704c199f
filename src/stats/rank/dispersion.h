/*
 * Dispersion: how far results of the same set-up lie apart, and whether that depends on a variable.
 *
 * From repeats: coupons whose every column is the same (a missing value never matches; a column
 * that no coupon has a value of does not count) and whose result is exact. A held coupon says
 * nothing about how far it lies from its repeat; it is left out and counted. Pooled variance = sum
 * of squares about each set-up's mean / sum of (n - 1); its 90 % interval from chi-square.
 *
 * Between levels: for each two-level column the log of the ratio of the mean squares of the
 * residuals of the ranking's leading variables at its two levels (G. E. P. Box, R. D. Meyer,
 * Technometrics 28:19, 1986), with the part of permutations of the residuals that give as large a
 * ratio (9999 of them, fewer above 400 coupons), adjusted over the columns (Holm).
 */
#ifndef STATS_RANK_DISPERSION_H
#define STATS_RANK_DISPERSION_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/error.h"
#include "stats/data/frame.h"

struct ranking;

struct dispersion_set {
    size_t *rows; /* rows of one set-up, result exact, at least 2 */
    size_t count;
    double mean, deviation;
};

struct dispersion_level {
    size_t column;
    double low_value, high_value;     /* the two values or level indexes */
    size_t low_count, high_count;     /* residuals at each */
    double low_scatter, high_scatter; /* root mean square of the residuals */
    double log_ratio;                 /* ln(high² / low²): Box & Meyer's dispersion effect */
    double chance;   /* of as large a ratio if the scatter were the same, by permutation */
    double adjusted; /* the same, adjusted over the columns (Holm) */
};

struct dispersion {
    struct dispersion_set *sets;
    size_t set_count;
    size_t degrees;                  /* sum of (n - 1); 0: no repeats, the three figures are NAN */
    double value, low, high;         /* pooled standard deviation, 90 % interval; result's unit */
    size_t held_left_out;            /* coupons of a repeated set-up left out because not exact */
    struct dispersion_level *levels; /* smallest chance first; empty below 8 exact results */
    size_t level_count;
    size_t residuals; /* exact results that the levels were judged on */
};

/* `r` is the ranking of the same frame, or NULL: repeats only. The caller frees `out`. */
void dispersion_check(const struct frame *f, const struct ranking *r, uint64_t seed,
                      struct dispersion *out);
void dispersion_free(struct dispersion *s);

#endif
