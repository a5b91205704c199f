/* The normal distribution, accurate far out in the tails. */
#ifndef STATS_NUM_NORMAL_H
#define STATS_NUM_NORMAL_H

double normal_log_density(double x); /* log φ(x) */
double normal_log_cdf(double x);     /* log Φ(x); finite for |x| < 1e150 */
double normal_ratio(double x);       /* φ(x)/Φ(x) */
/* Both at once, at the price of one: returns log Φ(x) and sets φ(x)/Φ(x). */
double normal_log_cdf_ratio(double x, double *ratio);
double normal_log_between(double l, double u); /* log [Φ(u) − Φ(l)], l < u */

#endif
