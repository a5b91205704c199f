/*
 * How large an effect is, given that it matters: the density of a difference between two settings
 * of one variable, averaged over the subsets that hold the variable.
 *
 * At each value b the coefficient is fixed at b (the same censored fit with that column dropped,
 * the results less b times the column, ca + 1, cb + λ b²/2), which makes the density right also
 * where many coupons were held and the likelihood is lopsided. It is walked outward from the mean
 * in halves of a standard error to 10⁻⁴ of its height, and its logarithm is splined. Subsets below
 * 0.5 % of the heaviest one that holds the variable, and all but the 128 heaviest, are dropped.
 * Where the subsets were taken from one full fit (average.h), the density is the mixture of their
 * normal approximations.
 */
#ifndef STATS_EFFECT_H
#define STATS_EFFECT_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/average.h"
#include "stats/coded.h"

struct effect_range {
    double low, high; /* 5 and 95 % points, coded units; NAN when there is no density */
    double mean;      /* of the density */
    double positive;  /* chance that it is above 0 */
};

/* `direction`: the difference as a combination of the columns of the group (`count` numbers; {1}
 * for a single column). */
void effect_range_make(const struct model_matrix *c, const struct model_average *a, size_t group,
                       const double *direction, struct effect_range *out);

/* The direction from the level at place `from` to that at place `to` among the levels in use. */
void effect_direction(const struct model_group *g, size_t from, size_t to, double *direction);

#endif
