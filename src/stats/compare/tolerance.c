#include "stats/compare/tolerance.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>

#include "base/mem.h"
#include "stats/data/model_matrix.h"
#include "stats/fit/censored.h"
#include "stats/num/noncentral.h"
#include "stats/num/normal.h"
#include "stats/num/order.h"

/* Grid of the posterior: places in log h and in γ, each `REACH` standard deviations either way. */
enum { PLACES = 121 };
#define REACH 6.0

double tolerance_factor(size_t n, double share, double confidence)
{
    double root = sqrt((double)n);

    return noncentral_t_point(confidence, (double)n - 1, gsl_cdf_ugaussian_Pinv(share) * root) /
           root;
}

size_t tolerance_coupons(double share, double confidence)
{
    return (size_t)ceil(log1p(-confidence) / log(share) - 1e-9);
}

/* The r-th smallest lies below the point wanted when at least r of n fall below that point, each
 * with chance 1 − share. */
size_t tolerance_order(size_t n, double share, double confidence)
{
    size_t r = 0;

    while (r < n && gsl_cdf_binomial_Q((unsigned)r, 1 - share, (unsigned)n) >= confidence)
        r++;
    return r;
}

/* A held coupon counts as its stop, which it did reach: the bound stays on the safe side. */
static void free_bound(const struct measure *y, size_t n, struct tolerance *out)
{
    double *v = mem_zero(n, sizeof *v);
    size_t at = tolerance_order(n, out->share, out->confidence);

    for (size_t i = 0; i < n; i++)
        v[i] = y[i].low;
    order_by_number(v, n, sizeof *v);
    out->free_bound = at > 0 && isfinite(v[at - 1]) ? v[at - 1] : NAN;
    out->free_needed = tolerance_coupons(out->share, out->confidence);
    free(v);
}

static void normal_bound(const struct measure *y, size_t n, struct tolerance *out)
{
    double squares = 0;

    out->mean = 0;
    for (size_t i = 0; i < n; i++)
        out->mean += y[i].low / (double)n;
    for (size_t i = 0; i < n; i++)
        squares += pow(y[i].low - out->mean, 2);
    out->deviation = sqrt(squares / (double)(n - 1));
    out->factor = tolerance_factor(n, out->share, out->confidence);
    out->bound = out->mean - out->factor * out->deviation;
}

/* Log-likelihood and prior of one level γ and scatter 1/h. */
static double log_posterior(const struct observation *y, size_t n, double gamma, double h)
{
    double sum = CENSORED_CA * log(h) - CENSORED_CB * h * h;

    for (size_t i = 0; i < n; i++) {
        double low = h * y[i].low - gamma, high = h * y[i].high - gamma;

        if (y[i].kind == MEASURE_EXACT)
            sum += log(h) - low * low / 2;
        else if (y[i].kind == MEASURE_AT_LEAST)
            sum += normal_log_cdf(-low);
        else if (y[i].kind == MEASURE_AT_MOST)
            sum += normal_log_cdf(high);
        else
            sum += normal_log_between(low, high);
    }
    return sum;
}

/* One place of the grid: the value counted on there, and its weight. */
struct place {
    double value, weight;
};

/* The point below which `part` of the weight lies. */
static double weighted_point(struct place *places, size_t count, double part)
{
    double sum = 0, below = 0;

    order_by_number(places, count, sizeof *places);
    for (size_t i = 0; i < count; i++)
        sum += places[i].weight;
    for (size_t i = 0; i < count; i++) {
        below += places[i].weight;
        if (below >= part * sum)
            return places[i].value;
    }
    return places[count - 1].value;
}

/* The posterior on a grid laid along the directions of the fit's curvature in (γ, log h). */
static double posterior_point(const struct observation *y, size_t n, const struct censored_fit *fit,
                              double z, double part)
{
    const double *f = fit->factor; /* lower Cholesky factor of the precision, 2 × 2 */
    struct place *places = mem_zero((size_t)PLACES * PLACES, sizeof *places);
    double top = log_posterior(y, n, fit->gamma[0], fit->h), point;

    for (int i = 0; i < PLACES; i++)
        for (int j = 0; j < PLACES; j++) {
            double u = REACH * (2.0 * i / (PLACES - 1) - 1),
                   v = REACH * (2.0 * j / (PLACES - 1) - 1);
            double log_h = v / f[3], gamma = fit->gamma[0] + (u - f[2] * log_h) / f[0];
            double h = fit->h * exp(log_h);
            struct place *p = &places[i * PLACES + j];

            p->value = (gamma - z) / h;
            p->weight = exp(log_posterior(y, n, gamma, h) - top);
        }
    point = weighted_point(places, (size_t)PLACES * PLACES, part);
    free(places);
    return point;
}

static int posterior_bound(const struct measure *y, size_t n, double range, struct tolerance *out,
                           struct error *e)
{
    static const double flat[1] = {0};
    const struct censored_prior prior = {flat, CENSORED_CA, CENSORED_CB};
    struct model_matrix c = {
        .n = n, .p = 1, .x = mem_zero(n, sizeof *c.x), .y = mem_zero(n, sizeof *c.y)};
    double centre = 0, unit = range / 6;
    struct censored_fit fit = {0};
    int rc;

    for (size_t i = 0; i < n; i++)
        centre += measure_point(y[i]) / (double)n;
    for (size_t i = 0; i < n; i++) {
        c.x[i] = 1;
        c.y[i] = observation_coded(y[i], centre, unit);
    }
    rc = censored_fit_once(&c, &prior, NULL, 0, &fit);
    if (rc == 0) {
        double z = gsl_cdf_ugaussian_Pinv(out->share);

        out->mean = centre + unit * fit.gamma[0] / fit.h;
        out->deviation = unit / fit.h;
        out->bound = centre + unit * posterior_point(c.y, n, &fit, z, 1 - out->confidence);
    } else {
        error_set(e, ERROR_ANSWER,
                  "nothing broke, so how far these coupons would go is not known; they can be "
                  "counted on for what they were folded to, in the share that the count allows");
    }
    censored_fit_free(&fit);
    model_matrix_free(&c);
    return rc;
}

/* Copies the known results, and says how far they lie apart. */
static size_t gather(const struct measure *y, size_t n, struct measure *known,
                     struct tolerance *out, double *apart)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < n; i++) {
        if (!measure_known(y[i]))
            continue;
        low = fmin(low, measure_point(y[i]));
        high = fmax(high, measure_point(y[i]));
        out->held += measure_held(y[i]);
        out->posterior = out->posterior || y[i].kind != MEASURE_EXACT;
        known[out->count++] = y[i];
    }
    *apart = high - low;
    return out->count;
}

int tolerance_make(const struct measure *y, size_t n, double range, double share, double confidence,
                   struct tolerance *out, struct error *e)
{
    struct measure *known = mem_zero(n, sizeof *known);
    double apart;
    int rc = 0;

    assert(0 < share && share < 1 && 0 < confidence && confidence < 1);
    *out = (struct tolerance){.share = share, .confidence = confidence, .factor = NAN};
    n = gather(y, n, known, out, &apart);
    if (n < 2)
        rc = error_set(e, ERROR_ANSWER,
                       "%zu coupon with a result; two are the least from which anything can "
                       "be counted on",
                       n);
    else if (!(apart > 0) && out->held < n)
        rc = error_set(e, ERROR_ANSWER,
                       "all %zu results are equal, so their scatter is not known; weld more, "
                       "or read the angle more finely",
                       n);
    else if (out->posterior)
        rc = posterior_bound(known, n, range > 0 ? range : fmax(apart, 1e-9), out, e);
    else
        normal_bound(known, n, out);
    if (rc == 0)
        free_bound(known, n, out);
    free(known);
    return rc;
}
