#include "stats/num/order.h"

#include <stdlib.h>

#include "base/mem.h"

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static int by_index(const void *a, const void *b)
{
    size_t x = *(const size_t *)a, y = *(const size_t *)b;

    return (x > y) - (x < y);
}

void order_numbers(double *v, size_t n)
{
    qsort(v, n, sizeof *v, by_value);
}

size_t order_distinct(double *v, size_t n)
{
    size_t kept = 0;

    order_numbers(v, n);
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || v[i] != v[kept - 1])
            v[kept++] = v[i];
    return kept;
}

void order_indexes(size_t *v, size_t n)
{
    qsort(v, n, sizeof *v, by_index);
}

size_t *order_identity(size_t n)
{
    size_t *order = mem_zero(n, sizeof *order);

    for (size_t i = 0; i < n; i++)
        order[i] = i;
    return order;
}
