/*
 * The shuffle check, a second opinion beside the chance: how often would shuffled results do as
 * well for this variable as the real ones, the other variables being allowed for?
 *
 * Per variable: a fit of the others (practically without prior) gives each coupon a score, how far
 * its result lies from what the others lead to expect; the scores, less what the others could still
 * explain, are shuffled, and each time the part explained by the variable is compared with the real
 * one. The chances are adjusted for looking at several variables (S. Holm, Scand. J. Statist. 6:65,
 * 1979). Above PERMUTATION_CHECK_MAX_ROWS coupons shuffling is replaced by the F distribution of
 * the fall in the log likelihood per coupon.
 */
#ifndef STATS_SHUFFLE_H
#define STATS_SHUFFLE_H

#include <stddef.h>
#include <stdint.h>

#include "stats/coded.h"

enum { PERMUTATION_CHECK_MAX_ROWS = 500 };

/* `c` not packed. Fills `chance` (one a group); NAN where the variable cannot be separated from the
 * others. */
void permutation_check(const struct model_matrix *c, size_t shuffles, uint64_t seed,
                       double *chance);
/* Holm's adjustment of `n` chances in place; NAN ones are left alone and not counted. */
void holm_adjust(double *chance, size_t n);

#endif
