/* Plain orders of numbers and indexes. */
#ifndef STATS_NUM_ORDER_H
#define STATS_NUM_ORDER_H

#include <stddef.h>

void order_numbers(double *v, size_t n);    /* rising; no NAN */
size_t order_distinct(double *v, size_t n); /* rising, one of each; returns how many */
void order_indexes(size_t *v, size_t n);    /* rising */
size_t *order_identity(size_t n);           /* 0, 1, …; the caller frees */

#endif
