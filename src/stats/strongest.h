/*
 * The chance that a variable is the strongest lever: that its effect (for a category, the largest
 * difference between its levels) is the largest of all, given all that is not known. Subsets are
 * drawn in proportion to their weight (stratified), effects from the normal approximation of their
 * fit in (γ, log h). What is missing to 1 is the chance that nothing matters.
 */
#ifndef STATS_STRONGEST_H
#define STATS_STRONGEST_H

#include <stdint.h>

#include "stats/average.h"

enum { PROB_LARGEST_DRAWS = 4000 };

void prob_largest(const struct model_matrix *c, const struct model_average *a, uint64_t seed,
                  double *chance); /* one a group */

#endif
