/* Simulated trials in which two variables may work together, for the screen of combined effects. */
#ifndef TESTS_SIMULATE_PAIRS_H
#define TESTS_SIMULATE_PAIRS_H

#include "stats/num/random.h"
#include "tally.h"

/* One trial of the given number (sizes and effects go round with it), counted into `t`. */
void pairs_trial(size_t number, struct random *r, struct tally *t);

#endif
