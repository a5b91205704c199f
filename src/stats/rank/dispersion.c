#include "stats/rank/dispersion.h"

#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/data/model_matrix.h"
#include "stats/num/holm.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"
#include "stats/num/random.h"
#include "stats/rank/ranking.h"

enum { MAX_PERMUTATIONS = 9999, MIN_PERMUTATIONS = 199, MIN_RESIDUALS = 8 };

/* Residuals permuted for one column in all. */
#define PERMUTATION_WORK 4e6

/* Residuals of the exact results, and their rows. */
struct residuals {
    double *r;
    size_t *rows, count;
};

static bool leading(const struct ranking *r, size_t column)
{
    for (size_t i = 0; i < r->count; i++)
        if (r->items[i].column == column)
            return r->items[i].word >= SURE_HINT;
    return false;
}

/* Least squares on the columns of the variables that are at least a hint; `count` stays 0 where
 * there are no more exact results than such columns. */
static void take_residuals(const struct frame *f, const struct ranking *r, struct residuals *out)
{
    const struct model_matrix *c = &r->matrix;
    double *x = mem_zero(c->n * c->p, sizeof *x), *y = mem_zero(c->n, sizeof *y);
    double *beta = mem_zero(c->p, sizeof *beta);
    size_t *columns = mem_zero(c->p, sizeof *columns), count = 1, exact = 0;

    for (size_t g = 0; g < c->group_count; g++)
        for (size_t j = 0; j < c->groups[g].count && leading(r, c->groups[g].column); j++)
            columns[count++] = c->groups[g].first + j;
    for (size_t i = 0; i < c->n; i++) {
        if (c->y[i].kind != MEASURE_EXACT)
            continue;
        for (size_t j = 0; j < count; j++)
            x[exact * count + j] = c->x[i * c->p + columns[j]];
        y[exact] = f->y[c->rows[i]].low;
        out->rows[exact++] = c->rows[i];
    }
    if (exact > count) {
        out->count = exact;
        linear_least_squares(x, exact, count, y, LINEAR_TOLERANCE, beta, out->r);
    }
    free(x);
    free(y);
    free(beta);
    free(columns);
}

/* Log of the ratio of the mean squares of the residuals at the high and at the low level; `order`
 * says which residual goes to which place. */
static double log_ratio(const struct residuals *res, const bool *high, const size_t *order,
                        size_t counts[2], double squares[2])
{
    counts[0] = counts[1] = 0;
    squares[0] = squares[1] = 0;
    for (size_t i = 0; i < res->count; i++) {
        double r = res->r[order[i]];

        counts[high[i]]++;
        squares[high[i]] += r * r;
    }
    return log(squares[1] / (double)counts[1]) - log(squares[0] / (double)counts[0]);
}

static double permutation_chance(const struct residuals *res, const bool *high, double seen,
                                 struct random *random)
{
    size_t *order = order_identity(res->count), counts[2], extreme = 0;
    double squares[2], work = PERMUTATION_WORK / (double)res->count;
    size_t permutations = (size_t)fmax(MIN_PERMUTATIONS, fmin(MAX_PERMUTATIONS, work));

    for (size_t s = 0; s < permutations; s++) {
        random_shuffle(random, order, res->count);
        extreme += fabs(log_ratio(res, high, order, counts, squares)) >= fabs(seen) - 1e-9;
    }
    free(order);
    return (1 + (double)extreme) / (1 + (double)permutations);
}

/* The two values of a column among the residuals' coupons; false when it has not exactly two. */
static bool two_values(const struct column *c, const struct residuals *res, double values[2])
{
    values[0] = values[1] = c->x[res->rows[0]];
    for (size_t i = 1; i < res->count; i++) {
        double x = c->x[res->rows[i]];

        if (values[0] == values[1] && x != values[0])
            values[x > values[0]] = x;
        else if (x != values[0] && x != values[1])
            return false;
    }
    return values[0] < values[1];
}

static void judge_column(const struct frame *f, size_t column, const struct residuals *res,
                         struct random *random, struct dispersion *out)
{
    const struct column *c = &f->columns[column];
    size_t *order, counts[2];
    double values[2], squares[2], ratio;
    bool *high;

    if (!two_values(c, res, values))
        return;
    high = mem_zero(res->count, sizeof *high);
    order = order_identity(res->count);
    for (size_t i = 0; i < res->count; i++)
        high[i] = c->x[res->rows[i]] == values[1];
    ratio = log_ratio(res, high, order, counts, squares);
    if (counts[0] > 1 && counts[1] > 1 && isfinite(ratio))
        out->levels[out->level_count++] = (struct dispersion_level){
            .column = column,
            .low_value = values[0],
            .high_value = values[1],
            .low_scatter = sqrt(squares[0] / (double)counts[0]),
            .high_scatter = sqrt(squares[1] / (double)counts[1]),
            .chance = permutation_chance(res, high, ratio, random),
        };
    free(high);
    free(order);
}

static int by_chance(const void *a, const void *b)
{
    const struct dispersion_level *x = a, *y = b;

    return x->chance != y->chance ? ORDER(x->chance, y->chance) : ORDER(x->column, y->column);
}

/* Adjusts over the columns (holm_adjust()). */
static void adjust(struct dispersion_level *levels, size_t count)
{
    double *chance = mem_zero(count, sizeof *chance);

    for (size_t i = 0; i < count; i++)
        chance[i] = levels[i].chance;
    holm_adjust(chance, count);
    for (size_t i = 0; i < count; i++)
        levels[i].adjusted = chance[i];
    free(chance);
}

void dispersion_check(const struct frame *f, const struct ranking *r, uint64_t seed,
                      struct dispersion *out)
{
    const struct model_matrix *c = &r->matrix;
    struct residuals res = {mem_zero(c->n, sizeof *res.r), mem_zero(c->n, sizeof *res.rows), 0};
    struct random random = random_seeded(seed);

    *out = (struct dispersion){.levels = mem_zero(c->group_count, sizeof *out->levels)};
    take_residuals(f, r, &res);
    for (size_t g = 0; g < c->group_count && res.count >= MIN_RESIDUALS; g++)
        judge_column(f, c->groups[g].column, &res, &random, out);
    qsort(out->levels, out->level_count, sizeof *out->levels, by_chance);
    adjust(out->levels, out->level_count);
    free(res.r);
    free(res.rows);
}

void dispersion_free(struct dispersion *s)
{
    free(s->levels);
    *s = (struct dispersion){0};
}
