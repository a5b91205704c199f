/*
 * What one more coupon is worth. With results the largest
 *     I(x) · sum_j max(chance_j, 0.02) G_j² / (1 + I(x) x'G),    G = M⁻¹ x,
 *     M = sum_i I_i x_i x_i' + diag(1e-6, 1/tau_j²),
 * the fall in the variance of the effects weighted with the chance that they matter, where I(x) is
 * the information of a coupon that may be held to the stop, relative to one that breaks (that of a
 * censored normal about its mean). A coupon that was chosen is added to M as if it were welded.
 * Without results the value is I x'G, which orders as the gain in log det M does.
 */
#ifndef STATS_DESIGN_CRITERION_H
#define STATS_DESIGN_CRITERION_H

#include "stats/design/candidates.h"

struct criterion {
    size_t p;
    double *matrix, *inverse; /* M and its inverse, p × p */
    double *weight;           /* p: chance of each column of x; NULL: without results */
    double *beta;             /* p: expected result = x·beta, coded; NULL without results */
    double *lambda;           /* p: prior precision of each column, 0 for the constant */
    double sigma;             /* coded */
    double stop;              /* coded; INFINITY: nothing is held */
    double centre, unit;      /* result = centre + unit × coded */
    double *g;                /* p, for work */
};

/* M of the welded coupons. The full model is fitted when the request has chances and the results
 * differ and bound the level; else every coupon counts alike. The caller frees `out`. */
void criterion_make(const struct candidates *s, const struct design_request *request,
                    struct criterion *out);
void criterion_free(struct criterion *s);

/* I of a coupon whose stop lies z scatters above its mean: 0 (surely held) … 1 (surely breaks). */
double criterion_information(double z);
/* `x`: p numbers. */
double criterion_value(const struct criterion *s, const double *x); /* larger is better */
/* x has been chosen (times 1), or is not after all (−1). */
void criterion_add(struct criterion *s, const double *x, double times);
double criterion_log_det(const struct criterion *s);
double criterion_expected(const struct criterion *s, const double *x);    /* result's unit; NAN */
double criterion_chance_held(const struct criterion *s, const double *x); /* 0 … 1; NAN */
/* Standard deviation of the effect of a group: of its change from end to end, or, for a category,
 * the root mean square over all pairs of levels. In the result's unit; without results in units of
 * the scatter. */
double criterion_deviation(const struct criterion *s, const struct model_group *g);

#endif
