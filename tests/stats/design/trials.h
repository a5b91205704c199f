/* Trials small enough to judge by brute force, and the slow arithmetic that judges them. */
#ifndef TESTS_STATS_DESIGN_TRIALS_H
#define TESTS_STATS_DESIGN_TRIALS_H

#include "stats/design/candidates.h"
#include "stats/num/random.h"

enum { MOST = 16 }; /* variables */

/* k numeric columns that take 0 and 1, no rows yet. */
void trial_make(struct frame *f, size_t k);
void set_welded(struct frame *f, struct measure y, const double *x);
const struct design_levels *two_levels(size_t k);
void random_trial(struct frame *f, size_t n, size_t k, struct random *r); /* all broke */
/* Categories and numbers of 2 to 4 levels. */
void mixed_trial(struct frame *f, size_t n, struct random *r);

/* Log determinant by plain elimination; a is destroyed. */
double slow_log_det(double *a, size_t p);
/* Diagonal element of the inverse of m. */
double slow_variance(const double *m, size_t p, size_t of);
/* Adds a coupon of 0 and 1 to m. */
void slow_add(double *m, size_t p, const double *set_up);
/* m of a frame whose columns run from 0 to 1. */
void slow_matrix(const struct frame *f, double *m);

#endif
