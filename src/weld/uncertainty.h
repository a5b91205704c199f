/*
 * Carrying the ± of readings into a result, first order.
 *
 *   u(y)² = Σ {[f(…, xᵢ+uᵢ, …) − f(…, xᵢ−uᵢ, …)]/2}²       JCGM 100:2008 5.1.2 and 5.1.3 note 2
 *
 * Readings are taken as independent. What goes in as half-width comes out as half-width of the same
 * level of confidence; the readings' own defaults below are the span a careful reader would vouch
 * for.
 */
#ifndef WELD_UNCERTAINTY_H
#define WELD_UNCERTAINTY_H

#include <stddef.h>

/* The ± taken when nothing is said [common]. */
#define READING_VOLT 0.5       /* V: needle or display of the machine */
#define READING_AMPERE 0.02    /* share of the reading */
#define READING_SECOND 0.2     /* s: thumb on a stopwatch, both ends */
#define READING_MM 0.5         /* mm: steel rule */
#define READING_CALIPER_MM 0.1 /* mm: calliper, weld gauge on a thickness */
#define READING_KELVIN 10.0    /* °C: temperature crayon, contact probe on plate */

enum { UNCERTAINTY_INPUTS = 32, UNCERTAINTY_OUTPUTS = 32 };

/* Computes `outputs` figures from `inputs`; NAN for those it cannot say. */
typedef void uncertainty_function(const double *inputs, double *outputs, void *context);

/*
 * ± of every output; NAN where the output itself is NAN at x, or where no input has a ±. `error[i]`
 * NAN or 0: exact. A side on which an output cannot be said (outside the range) is replaced by the
 * centre, the difference then being one-sided. counts at most as in the enum above.
 */
void uncertainty_carry(uncertainty_function *f, void *context, const double *x, const double *error,
                       size_t inputs, double *carried, size_t outputs);

#endif
