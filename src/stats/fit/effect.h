/*
 * How large an effect is, given that it matters: the density of a difference between two settings
 * of one variable, averaged over the subsets that hold the variable.
 *
 * At each value b the coefficient is fixed at b (the same censored fit with that column dropped,
 * the results less b times the column, ca + 1, cb + λ b²/2), which keeps the density right where
 * many coupons were held and the likelihood is skewed. The profile runs outward from the mean in
 * steps of half a standard error until the density falls below 10⁻⁴ of its peak; its logarithm is
 * splined. Subsets below 0.5 % of the heaviest one that holds the variable, and all but the 128
 * heaviest, are dropped. Where the subsets were taken from one full fit (model average), the
 * density is the mixture of their normal approximations.
 */
#ifndef STATS_FIT_EFFECT_H
#define STATS_FIT_EFFECT_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/data/model_matrix.h"
#include "stats/fit/model_average.h"

struct effect_range {
    double low, high; /* 90 % interval, coded units; NAN when there is no density */
};

/* `a` is the average over `c`. `direction`: the difference as a combination of the columns of the
 * group (`count` numbers; {1} for a single column). All NAN when no subset holds the group. */
void effect_range_make(const struct model_matrix *c, const struct model_average *a, size_t group,
                       const double *direction, struct effect_range *out);

/* The direction from the level at place `from` to that at place `to` among the levels in use. */
void effect_direction(const struct model_group *g, size_t from, size_t to, double *direction);

#endif
