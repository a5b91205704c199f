#include "stats/num/noncentral.h"

#include <assert.h>
#include <math.h>

#include "stats/num/guard.h"
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>

#define REACH 12.0 /* standard deviations of u that are integrated over */

enum { INTERVALS = 400 };

struct integrand {
    double t, freedom, shift, log_factor;
};

/* Φ(t u − shift) times the density of u. */
static double integrand(double u, void *user)
{
    const struct integrand *i = user;
    double log_density;

    if (u <= 0)
        return 0;
    log_density = i->log_factor + (i->freedom - 1) * log(u) - i->freedom * u * u / 2;
    return exp(log_density) * gsl_cdf_ugaussian_P(i->t * u - i->shift);
}

double noncentral_t_below(double t, double freedom, double shift)
{
    struct integrand i = {t, freedom, shift, 0};
    gsl_function f = {integrand, &i};
    gsl_integration_workspace *work = guard_block(gsl_integration_workspace_alloc(INTERVALS));
    double spread = REACH / sqrt(2 * freedom), result = 0, error;

    i.log_factor = M_LN2 + freedom / 2 * log(freedom / 2) - lgamma(freedom / 2);
    gsl_integration_qag(&f, fmax(0, 1 - spread), 1 + spread, 1e-12, 1e-11, INTERVALS,
                        GSL_INTEG_GAUSS31, work, &result, &error);
    gsl_integration_workspace_free(work);
    return fmin(1, fmax(0, result));
}

double noncentral_t_point(double part, double freedom, double shift)
{
    double low = shift - 1, high = shift + 1, step = 1;

    assert(0 < part && part < 1);
    while (noncentral_t_below(low, freedom, shift) > part)
        low -= step *= 2;
    for (step = 1; noncentral_t_below(high, freedom, shift) < part;)
        high += step *= 2;
    while (high - low > 1e-10 * (1 + fabs(low))) {
        double middle = (low + high) / 2;

        *(noncentral_t_below(middle, freedom, shift) < part ? &low : &high) = middle;
    }
    return (low + high) / 2;
}
