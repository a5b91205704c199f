/*
 * A one-sided tolerance bound: a result that at least a given share of further coupons will reach,
 * with a given confidence.
 *
 * Treating the stop as a break would make such a bound cover far too seldom, so:
 *   nothing but exact results   mean − k s with the exact normal factor (one-sided tolerance limit;
 *                               NIST/SEMATECH e-Handbook 7.2.6.3), and as well the bound that
 *                               assumes no normal distribution: an order statistic (S. S. Wilks,
 *                               Ann. Math. Stat. 12:91, 1941), where there are coupons enough;
 *   any held, or known roughly  the posterior of the censored-normal fit of one level, with the
 *                               weak prior of the ranking: the (1 − confidence) point of μ − z σ.
 */
#ifndef STATS_COMPARE_TOLERANCE_H
#define STATS_COMPARE_TOLERANCE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/measure.h"

struct tolerance {
    size_t count, held; /* results used; of those only "at least" */
    double share, confidence;
    double bound;           /* that share of coupons reaches it; result's unit */
    bool posterior;         /* from the posterior: some result was not an exact number */
    double factor;          /* k; NAN for a posterior */
    double mean, deviation; /* of the fit when `posterior` */
    double free_bound;  /* without assuming a normal distribution; NAN: too few coupons for it */
    size_t free_needed; /* coupons from which on the smallest one would do */
};

/*
 * `range` as in struct frame (R; 0: observed). Missing results are skipped. ERROR_ANSWER with fewer
 * than two results, when nothing broke, or when all results are equal. 0 < share, confidence < 1.
 */
int tolerance_make(const struct measure *y, size_t n, double range, double share, double confidence,
                   struct tolerance *out, struct error *e);

/* k for n exact results: P(non-central t with n − 1 and shift z √n ≤ k √n) = confidence. */
double tolerance_factor(size_t n, double share, double confidence);
/* Smallest n for which the smallest of n results is such a bound: 59 for 95/95, 29 for 90/95. */
size_t tolerance_coupons(double share, double confidence);
/* Which of n results in rising order (from 1) is such a bound; 0: none. */
size_t tolerance_order(size_t n, double share, double confidence);

#endif
