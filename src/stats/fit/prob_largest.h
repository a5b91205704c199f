/*
 * The probability that a variable has the largest effect of all (for a category: the largest
 * difference between its levels). Subsets are drawn in proportion to their weight (stratified),
 * effects from the normal approximation of their fit in (γ, log h). What is missing to 1 is the
 * probability that nothing matters.
 */
#ifndef STATS_FIT_PROB_LARGEST_H
#define STATS_FIT_PROB_LARGEST_H

#include <stdint.h>

#include "stats/fit/model_average.h"

enum { PROB_LARGEST_DRAWS = 4000 };

void prob_largest(const struct model_matrix *c, const struct model_average *a, uint64_t seed,
                  double *chance); /* one a group, 0 … 1 */

#endif
