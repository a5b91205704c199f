#include "stats/num/order.h"

#include <stdlib.h>

#include "base/mem.h"

static int by_number(const void *a, const void *b)
{
    return ORDER(*(const double *)a, *(const double *)b);
}

static int by_index(const void *a, const void *b)
{
    return ORDER(*(const size_t *)a, *(const size_t *)b);
}

void order_by_number(void *items, size_t n, size_t size)
{
    qsort(items, n, size, by_number);
}

size_t order_distinct(double *v, size_t n)
{
    size_t kept = 0;

    order_by_number(v, n, sizeof *v);
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

int order_rows(const double *u, const double *v, size_t n)
{
    for (size_t j = 0; j < n; j++)
        if (u[j] != v[j])
            return ORDER(u[j], v[j]);
    return 0;
}
