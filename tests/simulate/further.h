/*
 * What the next coupons are worth: trials in which the driver cannot be told from another variable
 * yet, and one, two and three further coupons chosen in several ways.
 */
#ifndef TESTS_SIMULATE_FURTHER_H
#define TESTS_SIMULATE_FURTHER_H

#include "stats/num/random.h"
#include "tally.h"

extern const char *const further_ways[FURTHER_WAYS];

/* One trial of the given number, counted into `t`. */
void further_trial(size_t number, struct random *r, struct tally *t);

#endif
