/*
 * What one more coupon would be worth: the information matrix of the coupons welded so far, and the
 * score of a candidate (stats/design.h). Inside stats only.
 */
#ifndef STATS_DESIGN_SCORE_H
#define STATS_DESIGN_SCORE_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/design.h"
#include "stats/design_space.h"

struct criterion {
    size_t p;
    double *matrix, *inverse; /* M and its inverse, p × p */
    double *weight;           /* one a column of x; NULL: the score is the gain in log det M */
    double *beta;             /* expected result = x·beta, coded; NULL without results */
    double sigma;             /* coded */
    double stop;              /* coded; INFINITY: nothing is held */
    double centre, unit;      /* result = centre + unit × coded */
    double *g;                /* p, for work */
};

/*
 * From the welded coupons: fits the full model when the request has chances and at least one coupon
 * has a result with an upper or lower limit to hold on to; else every coupon counts alike.
 */
void criterion_make(const struct candidates *s, const struct design_request *request,
                    struct criterion *out);
void criterion_free(struct criterion *s);

/* I(z) of statistics.md B2: what a coupon tells whose stop lies z scatters above its mean. */
double criterion_information(double z);
double criterion_value(const struct criterion *s, const double *x); /* larger is better */
void criterion_add(struct criterion *s, const double *x);           /* x has been chosen */
void criterion_remove(struct criterion *s, const double *x);        /* not after all */
double criterion_log_det(const struct criterion *s);
double criterion_expected(const struct criterion *s, const double *x);    /* result's unit; NAN */
double criterion_chance_held(const struct criterion *s, const double *x); /* NAN */
/* Standard deviation of the effect of a group: of its change from end to end, or, for a category,
 * the root mean square over all pairs of levels. In the result's unit; without results in units of
 * the scatter. */
double criterion_deviation(const struct criterion *s, const struct model_group *g);

#endif
