/* Adjusting probabilities for how many were tested. */
#ifndef STATS_NUM_HOLM_H
#define STATS_NUM_HOLM_H

#include <stddef.h>

/* In place (S. Holm, Scand. J. Statist. 6:65, 1979): the smallest of n is multiplied by n, the next
 * by n − 1, …, each at least the one before and at most 1. NAN ones are left alone and not counted.
 */
void holm_adjust(double *chance, size_t n);

#endif
