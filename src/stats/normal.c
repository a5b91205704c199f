#include "stats/normal.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_erf.h>
#include <math.h>

#define HALF_LOG_2PI 0.91893853320467274178

void stats_start(void)
{
    gsl_set_error_handler_off();
}

/* In the lower tail Φ itself underflows, while φ/Φ, Mills' ratio turned over, grows like −x. */
double normal_ratio(double x)
{
    if (x < -5)
        return gsl_sf_hazard(-x);
    return exp(-0.5 * x * x - HALF_LOG_2PI) / (0.5 * erfc(-x * M_SQRT1_2));
}

double normal_log_density(double x)
{
    return -0.5 * x * x - HALF_LOG_2PI;
}

double normal_log_cdf(double x)
{
    if (x < -5)
        return -0.5 * x * x - HALF_LOG_2PI - log(gsl_sf_hazard(-x));
    if (x > 0)
        return log1p(-0.5 * erfc(x * M_SQRT1_2));
    return log(0.5 * erfc(-x * M_SQRT1_2));
}

double normal_log_between(double l, double u)
{
    double width = u - l, middle = 0.5 * (l + u), log_u;

    if (width < 1e-4) /* density at the middle, with its first correction */
        return -0.5 * middle * middle - HALF_LOG_2PI + log(width) +
               (middle * middle - 1) * width * width / 24;
    if (l > 0)
        return normal_log_between(-u, -l);
    if (u > 0)
        return log1p(-0.5 * erfc(-l * M_SQRT1_2) - 0.5 * erfc(u * M_SQRT1_2));
    log_u = normal_log_cdf(u);
    return log_u + log(-expm1(normal_log_cdf(l) - log_u));
}
