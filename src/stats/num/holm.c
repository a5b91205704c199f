#include "stats/num/holm.h"

#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/num/order.h"

static int rising(const void *a, const void *b, void *chance)
{
    const double *c = chance;

    return ORDER(c[*(const size_t *)a], c[*(const size_t *)b]);
}

void holm_adjust(double *chance, size_t n)
{
    size_t *order = mem_zero(n, sizeof *order), count = 0;
    double reached = 0;

    for (size_t i = 0; i < n; i++)
        if (!isnan(chance[i]))
            order[count++] = i;
    qsort_r(order, count, sizeof *order, rising, chance);
    for (size_t i = 0; i < count; i++) {
        reached = fmax(reached, fmin(1, chance[order[i]] * (double)(count - i)));
        chance[order[i]] = reached;
    }
    free(order);
}
