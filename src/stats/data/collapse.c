#include "stats/data/collapse.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/order.h"

static int compare_x(const void *a, const void *b, void *matrix)
{
    const struct model_matrix *c = matrix;

    return order_rows(c->x + *(const size_t *)a * c->p, c->x + *(const size_t *)b * c->p, c->p);
}

/* Order of rows: by x, then by what was seen; exact results of one set-up are alike. */
static int compare_rows(const void *a, const void *b, void *matrix)
{
    const struct model_matrix *c = matrix;
    const struct observation *u = &c->y[*(const size_t *)a], *v = &c->y[*(const size_t *)b];
    int order = compare_x(a, b, matrix);

    if (order == 0)
        order = ORDER(u->kind, v->kind);
    if (order == 0 && u->kind != MEASURE_EXACT)
        order = order_rows((double[]){u->low, u->high}, (double[]){v->low, v->high}, 2);
    return order;
}

/* Adds an observation to a row; the mean and the squares about it by Welford's rule. */
static void join(struct observation *to, const struct observation *y, double *within)
{
    double away = y->low - to->low, weight = to->weight + y->weight;

    if (to->kind == MEASURE_EXACT) {
        *within += away * away * to->weight * y->weight / weight;
        to->low += away * y->weight / weight;
        to->high = to->low;
    }
    to->weight = weight;
}

static void copy_groups(const struct model_matrix *c, struct model_matrix *out)
{
    out->groups = mem_zero(c->group_count, sizeof *out->groups);
    for (size_t g = 0; g < c->group_count; g++) {
        size_t bytes = c->groups[g].level_count * sizeof(size_t);

        out->groups[g] = c->groups[g];
        if (bytes > 0)
            out->groups[g].levels = memcpy(mem_zero(1, bytes), c->groups[g].levels, bytes);
    }
}

size_t collapse_set_ups(const struct model_matrix *c)
{
    size_t *order = order_identity(c->n), count = c->n > 0;

    qsort_r(order, c->n, sizeof *order, compare_x, (void *)c);
    for (size_t i = 1; i < c->n; i++)
        count += compare_x(&order[i - 1], &order[i], (void *)c) != 0;
    free(order);
    return count;
}

void collapse_rows(const struct model_matrix *c, struct model_matrix *out)
{
    size_t *order = order_identity(c->n);

    *out = (struct model_matrix){.p = c->p,
                                 .within = c->within,
                                 .group_count = c->group_count,
                                 .centre = c->centre,
                                 .unit = c->unit};
    copy_groups(c, out);
    model_matrix_set_lambda(out);
    qsort_r(order, c->n, sizeof *order, compare_rows, (void *)c);
    out->y = mem_zero(c->n, sizeof *out->y);
    for (size_t i = 0; i < c->n; i++)
        if (i > 0 && compare_rows(&order[i - 1], &order[i], (void *)c) == 0) {
            join(&out->y[out->n - 1], &c->y[order[i]], &out->within);
        } else {
            out->y[out->n] = c->y[order[i]];
            order[out->n++] = order[i]; /* n ≤ i: overwrites only what has been read */
        }
    out->y = mem_resize(out->y, out->n, sizeof *out->y);
    out->x = mem_zero(out->n * c->p, sizeof *out->x);
    for (size_t r = 0; r < out->n; r++)
        memcpy(out->x + r * c->p, c->x + order[r] * c->p, c->p * sizeof *out->x);
    free(order);
}
