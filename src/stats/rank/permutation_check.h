/*
 * The permutation check, a second opinion on the ranking: how often do permuted results do as well
 * for a variable as the real ones, the other variables being allowed for?
 *
 * Per variable: a fit of the others (practically without prior) gives each coupon a score, how far
 * its result lies from what the others predict; the scores, less what the others could still
 * explain, are permuted, and each time the part explained by the variable is compared with the real
 * one. The probabilities are adjusted for the number of variables (Holm). Above
 * PERMUTATION_CHECK_MAX_ROWS coupons the F distribution of the fall in the log likelihood per
 * coupon takes the place of permutations.
 */
#ifndef STATS_RANK_PERMUTATION_CHECK_H
#define STATS_RANK_PERMUTATION_CHECK_H

#include <stddef.h>
#include <stdint.h>

#include "stats/data/model_matrix.h"

enum { PERMUTATION_CHECK_MAX_ROWS = 500 };

/* `c` not collapsed. Fills `chance` (one a group, 0 … 1); NAN where the variable cannot be
 * separated from the others. The same seed gives the same figures on every machine. */
void permutation_check(const struct model_matrix *c, size_t permutations, uint64_t seed,
                       double *chance);

#endif
