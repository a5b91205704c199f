/*
 * Averaging over subsets of the variables: every subset is fitted, and weighed by its evidence
 * times a prior by size, −log(k+1) − log C(k, s).
 *
 * Up to MODEL_AVERAGE_ALL groups all 2^k subsets are fitted. Beyond that a search walks from the
 * empty subset: always the best subset not yet looked around from is taken next, and its neighbours
 * (one group more, one less, one swapped) are fitted; it ends when the best one left is below e^−9
 * of the best found, or at MODEL_AVERAGE_MAX_SUBSETS subsets. With more than MODEL_AVERAGE_CELLS
 * rows that are not exact, the subsets are taken from one full fit (quadratic approximation; with
 * 1000 coupons, a third held, chances are off by 0.002 at most).
 */
#ifndef STATS_AVERAGE_H
#define STATS_AVERAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/error.h"
#include "stats/censored.h"
#include "stats/coded.h"

enum {
    MODEL_AVERAGE_ALL = 12,
    MODEL_AVERAGE_MAX_SUBSETS = 8192,
    MODEL_AVERAGE_CELLS = 1000,
    MODEL_AVERAGE_MAX_GROUPS = 64
};

struct subset {
    uint64_t groups;     /* bit g: group g is in */
    double weight;       /* the weights sum to 1 */
    double log_evidence; /* with the prior of the subset */
    double log_prior;    /* of the subset */
    double *gamma;       /* p coefficients in the order of the coded columns, 0 where not in */
    double h;
    double log_h_sd; /* standard deviation of log h */
};

struct model_average {
    struct subset *subsets;
    size_t count;
    double *chance; /* of each group */
    double *beta;   /* p: mean of γ/h given that its group matters, coded units */
    double scatter; /* mean of 1/h, coded units */
    bool searched, approximated;
    double *hessian; /* approximated: of the full fit, (p+1)², in (γ, log h); else NULL */
};

struct model_average_options {
    /* Log prior of a subset; NULL: by size. −INFINITY leaves the subset out. */
    double (*log_prior)(uint64_t groups, size_t group_count, const void *prior_user);
    const void *prior_user;
    bool (*progress)(void *user, double done); /* false stops; may be NULL */
    void *user;
    double worth; /* 0: e^−9 as above; smaller: a search that ends sooner (natural log) */
    size_t all;   /* 0: MODEL_AVERAGE_ALL; fewer: search earlier (to check the search) */
    size_t cells; /* 0: MODEL_AVERAGE_CELLS; fewer: to check the approximation */
};

/* `c` packed or not; `options` may be NULL. */
int model_average_make(const struct model_matrix *c, const struct model_average_options *options,
                       struct model_average *out, struct error *e);
void model_average_free(struct model_average *a);
/* Chance that at least one of the groups in `groups` matters. */
double model_average_any(const struct model_average *a, uint64_t groups);
double model_average_prior_by_size(uint64_t groups, size_t group_count, const void *unused);

#endif
