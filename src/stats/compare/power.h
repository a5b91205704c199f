/*
 * How many coupons it takes to see a difference between two techniques.
 *
 * The test the figures are for: Student's two-sample test, two-sided, when every coupon broke;
 * with held ones the rank scores of permutation_test.h against their permutation variance, referred
 * to the normal distribution. Angles are normal with the same scatter on both sides.
 */
#ifndef STATS_COMPARE_POWER_H
#define STATS_COMPARE_POWER_H

#include <stddef.h>
#include <stdint.h>

struct power_question {
    double difference, scatter; /* of the two techniques; of like coupons; same unit */
    double level;               /* false alarm accepted, two-sided, for instance 0.05 */
    double stop;                /* folding ends here; INFINITY: never */
    double lower;               /* mean of the weaker technique; not used without a stop */
};

enum { POWER_TRIALS = 4000, POWER_MAX_COUPONS = 500 };

/* Exact, without a stop: non-central t. n a side, at least 2. Equals power.t.test of GNU R. */
double power_without_stop(const struct power_question *q, size_t n);

/* By POWER_TRIALS simulated trials from `seed`, with the stop; standard error below 0.008. */
double power_with_stop(const struct power_question *q, size_t n, uint64_t seed);

/* Fewest coupons a side that see the difference with chance `wanted`, beyond 30 in steps of a
 * tenth; 0: more than POWER_MAX_COUPONS. */
size_t power_coupons(const struct power_question *q, double wanted, uint64_t seed);

#endif
