/*
 * What the averaged model predicts for one more coupon: a mixture over the subsets of Student's t
 * distributions, each with the subset's mean, its scatter and the uncertainty of its coefficients,
 * and degrees of freedom ½ / Var(log h). Subsets below 0.1 % of the heaviest are dropped.
 */
#ifndef STATS_FIT_PREDICT_H
#define STATS_FIT_PREDICT_H

#include <stddef.h>

#include "stats/data/model_matrix.h"
#include "stats/fit/model_average.h"

struct prediction_part {
    double weight, mean, scale, freedom; /* coded units */
};

struct prediction {
    struct prediction_part *parts;
    size_t count;
    double centre, unit; /* result = centre + unit × coded */
};

/* One subset kept, fitted again for its curvature. */
struct predictor_part {
    double weight, freedom, h;
    size_t *columns, count; /* of x, in the subset */
    double *gamma;          /* one a column of x, 0 where not in */
    double *factor;         /* (count + 1)², lower Cholesky factor of the curvature */
};

/* One predictor serves any number of set-ups. */
struct predictor {
    const struct model_matrix *c;
    struct predictor_part *parts;
    size_t count;
};

/* `c` must stay until predictor_free(); `a` is its average. The caller frees `out`. */
void predictor_make(const struct model_matrix *c, const struct model_average *a,
                    struct predictor *out);
void predictor_free(struct predictor *p);

/* `x`: p numbers (model_matrix_row()). The caller frees `out`. */
void predict(const struct predictor *p, const double *x, struct prediction *out);
void prediction_free(struct prediction *p);

/* Result's unit. Probabilities and `part` 0 … 1. */
double prediction_mean(const struct prediction *p);
double prediction_below(const struct prediction *p,
                        double result); /* probability of less than that */
double prediction_point(const struct prediction *p, double part); /* below it lies `part` */

#endif
