/*
 * The censored-normal fit: a straight-line model of results that may be only "at least", "at most"
 * or "between", with a weak prior, in Olsen's form, in which the problem is concave (R. J. Olsen,
 * Econometrica 46:1211, 1978): gamma = beta/sigma, h = 1/sigma.
 *
 *   log posterior = Σ exact   [log h − ½ (h y − xγ)² − ½ log 2π]
 *                 + Σ at least  log Φ(xγ − h y)     (mirrored for at most)
 *                 + Σ between   log [Φ(h u − xγ) − Φ(h l − xγ)]
 *                 + ca log h − cb h² − ½ Σ λ_j γ_j²
 *
 * Evidence: Laplace's approximation in (γ, log h), including the normalising constants of the prior
 * of columns with λ > 0.
 */
#ifndef STATS_CENSORED_H
#define STATS_CENSORED_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/coded.h"

/* What is fitted: rows of `x`, of which the columns listed in `columns` are used. */
struct censored_data {
    size_t n, stride;             /* x[i * stride + columns[j]] */
    const double *x;
    const struct observation *y;
    double within;                /* see struct coded */
    const double *shift;          /* n, or NULL: a column whose coefficient is fixed … */
    double shift_by;              /* … at this value: results are taken as y − shift_by·shift */
};

struct censored_prior {
    const double *lambda; /* one per column of x (indexed like x, not like `columns`) */
    double ca, cb;
};

#define CENSORED_CA 1.0
#define CENSORED_CB 0.25 /* prior scatter ½ in coded units: R/12 */

struct censored_fit {
    size_t p;             /* columns in the fit */
    double *gamma;        /* p */
    double h;
    double *hessian;      /* (p+1)², minus the second derivatives in (γ, log h), row by row */
    double *factor;       /* (p+1)², its Cholesky factor, lower triangle */
    double log_posterior; /* at the maximum */
    double log_evidence;
    int steps;            /* of Newton */
    size_t room;          /* columns there is room for; kept between fits */
    double *work;
};

void censored_fit_init(struct censored_fit *fit);
void censored_fit_free(struct censored_fit *fit);

/*
 * Fits the listed columns. A fit that holds γ and h of the same number of columns is used as the
 * start when `warm`. Returns 0, or −1 when there is no maximum (no upper and lower limit at all
 * among the results, or numbers beyond reason); `fit` can be used again in either case.
 */
int censored_fit(const struct censored_data *data, const struct censored_prior *prior,
                 const size_t *columns, size_t count, bool warm, struct censored_fit *fit);

/* Log-likelihood of one observation (without weight) at linear predictor eta and h. */
double censored_log_likelihood(const struct observation *y, double eta, double h);
/* Expected value of the result given what was seen of it, in the units of y (mean mu, scatter
 * sigma). */
double censored_expected(const struct observation *y, double mu, double sigma);

#endif
