/*
 * Folding a coupon is a survival test with the angle in place of time: it breaks at an angle, or is
 * held unbroken to the stop. Product-limit steps of the share still unbroken, and the log-rank
 * test.
 *
 * "At least" results are held; "between" and "at most" results count as broken at the middle and at
 * the limit (measure_point()).
 */
#ifndef STATS_COMPARE_SURVIVAL_H
#define STATS_COMPARE_SURVIVAL_H

#include <stddef.h>

#include "model/measure.h"

/* The share falls at `at`, where at least one coupon broke; result's unit. */
struct survival_step {
    double at;
    size_t risk;      /* coupons still unbroken and still being folded just before */
    size_t broke;     /* of those, broke here */
    double share;     /* still unbroken just after; product of (1 - broke / risk) */
    double low, high; /* 90 % limits on the log(-log) scale, Greenwood's variance; NAN at share 0 */
};

struct survival {
    struct survival_step *steps; /* rising; none when nothing broke */
    size_t step_count;
};

/* Product-limit estimate: E. L. Kaplan, P. Meier, J. Am. Stat. Assoc. 53:457, 1958; variance of
 * M. Greenwood 1926. Missing results are skipped. */
void survival_steps(const struct measure *y, size_t n, struct survival *out);
void survival_free(struct survival *s);

struct log_rank {
    double chi_square, chance; /* on 1 degree of freedom; NAN when no coupon broke while both groups
                                  were still being folded */
    double a_broke, a_expected; /* of the first group; the second has the rest of each */
    double variance; /* hypergeometric: sum of d (r-d) ra rb / (r² (r-1)) over the breaking angles,
                        equal angles taken together */
};

/* Log-rank (N. Mantel, Cancer Chemother. Rep. 50:163, 1966): observed against expected breaks. */
void survival_log_rank(const struct measure *a, size_t a_count, const struct measure *b,
                       size_t b_count, struct log_rank *out);

#endif
