/*
 * Exact permutation test of a difference between two groups.
 *
 * If the change made no difference, every way of dividing the same results between the two groups
 * was as likely as the one seen. The probability is the part of those arrangements whose difference
 * is at least as large as the one seen, in either direction. All arrangements are counted up to
 * PERMUTATION_TEST_ALL of them; beyond, PERMUTATION_TEST_DRAWS are drawn with a recorded seed, and
 * the seen one counts as one more (so the probability is never 0): p = (1 + as extreme) / (1 +
 * drawn).
 *
 * Scores: with nothing but exact results, the results themselves (difference of means; R. A. Fisher
 * 1935, E. J. G. Pitman 1937). With "at least", "at most" or "between" among them, each coupon's
 * score is the number of coupons it surely beats less the number that surely beat it (E. A. Gehan,
 * Biometrika 52:203, 1965; N. Mantel, Biometrics 23:65, 1967): nothing is assumed about how much
 * further a held coupon would have gone. It holds as long as both groups were folded to the same
 * stop.
 */
#ifndef STATS_COMPARE_PERMUTATION_TEST_H
#define STATS_COMPARE_PERMUTATION_TEST_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/measure.h"

enum { PERMUTATION_TEST_ALL = 2000000, PERMUTATION_TEST_DRAWS = 200000 };

struct permutation_test {
    double chance;       /* 0 … 1; 1 when every result is the same */
    double smallest;     /* no result could give less with these scores and counts */
    double arrangements; /* how many there are; exact as a double up to 2^53 */
    bool all;            /* every one was counted; else `drawn` were drawn from `seed` */
    size_t drawn; /* 0 when all were counted; fewer than PERMUTATION_TEST_DRAWS above 400 coupons */
    bool ranks;   /* scores of Gehan and Mantel, not the results themselves */
    uint64_t seed;
};

/*
 * Results of group a and group b, none missing, at least one in each (asserted). O(arrangements).
 */
void permutation_test(const struct measure *a, size_t a_count, const struct measure *b,
                      size_t b_count, uint64_t seed, struct permutation_test *out);

/* The smallest two-sided chance that a + b coupons without equal results can give at all: 2 / C
 * when a = b, else 1 / C, with C = (a + b)! / (a! b!). 3 against 3: 0.10. 1 when a or b is 0. */
double permutation_test_smallest(size_t a, size_t b);

/* Scores as above for n results, none missing; fills n numbers. Returns true when they are Gehan's.
 */
bool permutation_test_scores(const struct measure *y, size_t n, double *scores);

#endif
