/*
 * The censored-normal fit: a straight-line model of results that may be only "at least", "at most"
 * or "between", with a weak prior, in Olsen's form, in which the problem is concave (R. J. Olsen,
 * Econometrica 46:1211, 1978): gamma = beta/sigma, h = 1/sigma.
 *
 *   log posterior = Σ exact     [log h − ½ (h y − xγ)² − ½ log 2π]
 *                 + Σ at least  log Φ(xγ − h y)     (mirrored for at most)
 *                 + Σ between   log [Φ(h u − xγ) − Φ(h l − xγ)]
 *                 + ca log h − cb h² − ½ Σ λ_j γ_j²
 *
 * Exact results enter through their second moments alone, summed once, so that only the others cost
 * time in a fit. Evidence: Laplace's approximation in (γ, log h), with the normalising
 * constants of the prior of columns with λ > 0.
 */
#ifndef STATS_FIT_CENSORED_H
#define STATS_FIT_CENSORED_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/data/model_matrix.h"

/* What is fitted. Made from a model matrix, independent of it afterwards; `within` of a collapsed
 * one is in the moments. The caller frees it. */
struct censored_data {
    size_t p;              /* columns of x, the constant first */
    double exact;          /* number of exact results */
    double *moments;       /* (p+1)², Σ z z' with z = (x, −y) over exact results */
    double *points;        /* (p+1)², the same over all results taken as numbers: for the start */
    size_t n;              /* rows that are not exact … */
    double *x;             /* … n × p … */
    struct observation *y; /* … and what was seen of them */
    double total;          /* number of all results */
    bool below, above;     /* some result is no less, some is no more, than something finite */
};

void censored_data_make(const struct model_matrix *c, struct censored_data *out);
void censored_data_free(struct censored_data *d);

#define CENSORED_CA 1.0
#define CENSORED_CB 0.25 /* prior scatter ½ in coded units: R/12 */

struct censored_prior {
    const double *lambda; /* one per column of x, whether fitted or not */
    double ca, cb;
};

/* Columns of x in the fit, ascending; results are taken as y − by · x[column] when `by` is not 0
 * (the coefficient of a column left out of the fit, held fixed). */
struct censored_model {
    const size_t *columns;
    size_t count;
    size_t column;
    double by;
    double close; /* Newton's method stops after the first step that promises a gain in log
                     posterior below half of this; 0: 1e-10 */
};

struct censored_fit {
    size_t p;      /* columns in the fit */
    double *gamma; /* p */
    double h;
    double *hessian;      /* (p+1)², minus the second derivatives in (γ, log h), row by row */
    double *factor;       /* (p+1)², lower Cholesky factor of it; above the diagonal undefined */
    double log_posterior; /* at the maximum */
    double log_evidence;
    int steps;       /* of Newton's method */
    size_t capacity; /* columns there is room for: storage is kept between fits */
    double *work;
};

/*
 * Finds the maximum. With `warm`, the γ and h of an earlier fit of as many columns are the start.
 * `fit` starts as `{0}`, is reused between fits and released with censored_fit_free(). Returns 0,
 * or −1 when there is no maximum (no result bounds the level on one side, or columns with λ = 0
 * are tied).
 */
int censored_fit(const struct censored_data *d, const struct censored_prior *prior,
                 const struct censored_model *model, bool warm, struct censored_fit *fit);
void censored_fit_free(struct censored_fit *fit);
/* One cold fit of some columns of a matrix (NULL: all of them), for whoever needs no other of it.
 */
int censored_fit_once(const struct model_matrix *c, const struct censored_prior *prior,
                      const size_t *columns, size_t count, struct censored_fit *fit);
/*
 * The mean x'γ/h of a combination of coefficients, and its variance where (γ, log h) is normal with
 * the curvature of which `factor` is the lower Cholesky factor: the gradient is (x/h, −mean). x and
 * γ have a place for every column of the matrix, `factor` one for each of `columns` and for log h.
 */
double censored_combination(const double *factor, const size_t *columns, size_t count,
                            const double *x, const double *gamma, double h, double *variance);

/* Expected value of a result given what was seen of it, mean `mu`, scatter `sigma`. */
double censored_expected(const struct observation *y, double mu, double sigma);
/* How far a result lies from what was expected, in scatters: the derivative of its log-likelihood
 * by the mean, times sigma. Exact: (y − mu)/sigma. */
double censored_score(const struct observation *y, double mu, double sigma);

#endif
