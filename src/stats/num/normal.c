#include "stats/num/normal.h"

#include <gsl/gsl_sf_erf.h>
#include <math.h>

#define HALF_LOG_2PI 0.91893853320467274178

double normal_log_density(double x)
{
    return -0.5 * x * x - HALF_LOG_2PI;
}

/* In the lower tail Φ itself underflows, while φ/Φ, Mills' ratio turned over, grows like −x. */
double normal_log_cdf_ratio(double x, double *ratio)
{
    double density = normal_log_density(x), tail;

    if (x < -5) {
        *ratio = gsl_sf_hazard(-x);
        return density - log(*ratio);
    }
    tail = 0.5 * erfc(fabs(x) * M_SQRT1_2);
    *ratio = exp(density) / (x > 0 ? 1 - tail : tail);
    return x > 0 ? log1p(-tail) : log(tail);
}

double normal_log_cdf(double x)
{
    double ratio;

    return normal_log_cdf_ratio(x, &ratio);
}

double normal_ratio(double x)
{
    double ratio;

    normal_log_cdf_ratio(x, &ratio);
    return ratio;
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
