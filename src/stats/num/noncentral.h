/* Student's t about a mean that is not 0 (non-central t), which GSL does not have. */
#ifndef STATS_NUM_NONCENTRAL_H
#define STATS_NUM_NONCENTRAL_H

/*
 * P(T ≤ t), T = (Z + shift) / √(χ²/freedom), by integrating Φ(t u − shift) over the distribution of
 * u = √(χ²/freedom) (GSL adaptive quadrature; about 1e-10). freedom at least 1.
 */
double noncentral_t_below(double t, double freedom, double shift);

/* The t below which `part` (0 < part < 1) lies; bisection. */
double noncentral_t_point(double part, double freedom, double shift);

#endif
