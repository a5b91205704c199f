/*
 * Dispersion: whether the scatter of the results depends on a variable.
 *
 * For each two-level column the log of the ratio of the mean squares of the residuals of the
 * ranking's leading variables at its two levels (G. E. P. Box, R. D. Meyer, Technometrics 28:19,
 * 1986), with the part of permutations of the residuals that give as large a ratio (9999 of them,
 * fewer above 400 coupons), adjusted over the columns (Holm).
 */
#ifndef STATS_RANK_DISPERSION_H
#define STATS_RANK_DISPERSION_H

#include <stddef.h>
#include <stdint.h>

#include "stats/data/frame.h"

struct ranking;

struct dispersion_level {
    size_t column;
    double low_value, high_value;     /* the two values or level indexes */
    double low_scatter, high_scatter; /* root mean square of the residuals at each, result's unit */
    double chance;   /* of as large a ratio if the scatter were the same, by permutation */
    double adjusted; /* the same, adjusted over the columns (Holm) */
};

struct dispersion {
    struct dispersion_level *levels; /* smallest chance first; empty below 8 exact results */
    size_t level_count;
};

/* `r` is the ranking of the same frame. The caller frees `out`. */
void dispersion_check(const struct frame *f, const struct ranking *r, uint64_t seed,
                      struct dispersion *out);
void dispersion_free(struct dispersion *s);

#endif
