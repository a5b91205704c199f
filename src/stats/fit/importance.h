/*
 * Importance: how much of the differences between the results goes to each variable.
 *
 * Results that are not exact are first replaced by what the fit with all variables expects of them.
 * The explained part of the variation (R²) of every set of variables is then divided: the part of a
 * variable is its gain in R², averaged over all orders in which variables can enter (L. S. Shapley,
 * 1953). Up to IMPORTANCE_ALL variables all sets are taken, beyond that IMPORTANCE_ORDERS seeded
 * orders, each also backwards. The parts and the unexplained rest sum to 1.
 */
#ifndef STATS_FIT_IMPORTANCE_H
#define STATS_FIT_IMPORTANCE_H

#include <stdint.h>

#include "stats/data/model_matrix.h"

enum { IMPORTANCE_ALL = 12, IMPORTANCE_ORDERS = 256 };

/* Fills `importance` (one a group, 0 … 1) and returns the unexplained rest. 0 and 1 when nothing
 * varies or there is no maximum. */
double importance_split(const struct model_matrix *c, uint64_t seed, double *importance);

#endif
