/*
 * Averaging over subsets of the variables: every subset is fitted and weighed by its evidence times
 * a prior by size, −log(k+1) − log C(k, s), with s of k variables in.
 *
 * Up to MODEL_AVERAGE_ALL groups all 2^k subsets are fitted. Beyond that a best-first search starts
 * at the empty subset: the best subset whose neighbours (one group more, one less, one swapped)
 * have not been fitted is expanded next, until the best one left is e^−9 below the best found or
 * MODEL_AVERAGE_MAX_SUBSETS are fitted. With more than MODEL_AVERAGE_CELLS rows that are not exact,
 * the subsets are taken from one full fit (quadratic approximation; with 1000 coupons, a third
 * held, chances are off by 0.002 at most).
 */
#ifndef STATS_FIT_MODEL_AVERAGE_H
#define STATS_FIT_MODEL_AVERAGE_H

#include "stats/fit/censored.h"

enum {
    MODEL_AVERAGE_ALL = 12,
    MODEL_AVERAGE_MAX_SUBSETS = 8192,
    MODEL_AVERAGE_CELLS = 1000,
    MODEL_AVERAGE_MAX_GROUPS = 64 /* a set of groups is a bit mask */
};

struct subset {
    uint64_t groups;     /* bit g: group g is in */
    double weight;       /* the weights sum to 1 */
    double log_evidence; /* with the prior of the subset; −INFINITY: not fitted */
    double log_prior;    /* of the subset */
    double *gamma;       /* p coefficients in the order of the columns of x, 0 where not in */
    double h;
    double log_h_sd; /* standard deviation of log h */
};

struct model_average {
    struct subset *subsets;
    size_t count;
    double *chance; /* one a group: that it matters, 0 … 1 */
    double *beta;   /* p: mean of γ/h given that its group matters, coded units */
    double scatter; /* mean of 1/h, coded units */
    bool searched, approximated;
    double *hessian; /* approximated: of the full fit, (p+1)², in (γ, log h); else NULL */
};

struct model_average_options {
    /* Log prior of a subset; NULL: by size. −INFINITY leaves the subset out. */
    double (*log_prior)(uint64_t groups, size_t group_count, const void *prior_user);
    const void *prior_user;
    bool (*progress)(void *user, double done); /* done 0 … 1; false stops; may be NULL */
    void *user;
    double worth; /* the search ends this far (natural log) below the best; 0: 9 */
    size_t all;   /* up to this many groups all subsets are fitted; 0: MODEL_AVERAGE_ALL */
};

/*
 * `c` collapsed or not; `options` may be NULL. ERROR_ANSWER when there are too many groups, no
 * subset has a maximum, or the progress call stopped it; `out` is empty then. The caller frees
 * `out`.
 */
int model_average_make(const struct model_matrix *c, const struct model_average_options *options,
                       struct model_average *out, struct error *e);
void model_average_free(struct model_average *a);
/* Probability that at least one of the groups in `groups` matters. */
double model_average_any(const struct model_average *a, uint64_t groups);
double model_average_prior_by_size(uint64_t groups, size_t group_count, const void *unused);
/*
 * Lower Cholesky factor (count + 1)² of the curvature of one subset in (γ, log h), from its own fit
 * or, when approximated, from the full one. `columns` are those of the subset; `fit` is for work.
 * −1 when there is no maximum.
 */
int model_average_factor(const struct model_average *a, const struct model_matrix *c,
                         const struct censored_data *data, const size_t *columns, size_t count,
                         struct censored_fit *fit, double *factor);

#endif
