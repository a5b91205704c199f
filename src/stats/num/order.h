/* Plain orders of numbers and indexes. */
#ifndef STATS_NUM_ORDER_H
#define STATS_NUM_ORDER_H

#include <stddef.h>

/* −1, 0 or 1: how a and b compare, for comparison functions. NAN is equal to everything. */
#define ORDER(a, b) (((a) > (b)) - ((a) < (b)))

/* Items of `size` bytes that are, or begin with, a number (double, no NAN): rising. */
void order_by_number(void *items, size_t n, size_t size);
size_t order_distinct(double *v, size_t n); /* rising, one of each; returns how many */
void order_indexes(size_t *v, size_t n);    /* rising */
size_t *order_identity(size_t n);           /* 0, 1, …; the caller frees */
/* Compares two rows of n numbers: by the first, then the second, … */
int order_rows(const double *u, const double *v, size_t n);

#endif
