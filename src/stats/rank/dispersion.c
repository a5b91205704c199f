#include "stats/rank/dispersion.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#include "base/array.h"
#include "base/mem.h"
#include "stats/data/model_matrix.h"
#include "stats/num/interval.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"
#include "stats/num/random.h"
#include "stats/rank/permutation_check.h"
#include "stats/rank/ranking.h"

enum { MAX_PERMUTATIONS = 9999, MIN_PERMUTATIONS = 199, MIN_RESIDUALS = 8 };

/* Residuals permuted for one column in all. */
#define PERMUTATION_WORK 4e6

/* ---- repeats ---- */

/* The frame, and which of its columns were recorded at all. */
struct recorded {
    const struct frame *f;
    bool *column;
};

static int by_set_up(const void *a, const void *b, void *user)
{
    const struct recorded *r = user;
    size_t i = *(const size_t *)a, j = *(const size_t *)b;

    for (size_t c = 0; c < r->f->k; c++) {
        double x = r->f->columns[c].x[i], y = r->f->columns[c].x[j];

        if (r->column[c] && x != y)
            return x < y ? -1 : 1;
    }
    return (i > j) - (i < j);
}

static bool same_set_up(const struct recorded *r, size_t i, size_t j)
{
    for (size_t c = 0; c < r->f->k; c++)
        if (r->column[c] && r->f->columns[c].x[i] != r->f->columns[c].x[j])
            return false;
    return true;
}

static void find_recorded(struct recorded *r)
{
    r->column = mem_zero(r->f->k, sizeof *r->column);
    for (size_t c = 0; c < r->f->k; c++)
        for (size_t i = 0; i < r->f->n && !r->column[c]; i++)
            r->column[c] = !isnan(r->f->columns[c].x[i]);
}

/* Rows with a result and every recorded column known, like set-ups together. */
static size_t sorted_rows(struct recorded *r, size_t *rows)
{
    size_t n = 0;

    for (size_t i = 0; i < r->f->n; i++) {
        bool known = measure_known(r->f->y[i]);

        for (size_t c = 0; c < r->f->k; c++)
            known = known && !(r->column[c] && isnan(r->f->columns[c].x[i]));
        if (known)
            rows[n++] = i;
    }
    qsort_r(rows, n, sizeof *rows, by_set_up, r);
    return n;
}

/* One set-up's coupons: those with exact results become a set when there are two. */
static double add_set(const struct frame *f, const size_t *rows, size_t count,
                      struct dispersion *out)
{
    struct dispersion_set *set = &out->sets[out->set_count];
    double sum = 0, squares = 0;

    if (count < 2)
        return 0;
    *set = (struct dispersion_set){.rows = mem_zero(count, sizeof *set->rows)};
    for (size_t i = 0; i < count; i++)
        if (f->y[rows[i]].kind == MEASURE_EXACT) {
            set->rows[set->count++] = rows[i];
            sum += f->y[rows[i]].low;
        }
    out->held_left_out += count - set->count;
    if (set->count < 2) {
        free(set->rows);
        return 0;
    }
    set->mean = sum / (double)set->count;
    for (size_t i = 0; i < set->count; i++)
        squares += pow(f->y[set->rows[i]].low - set->mean, 2);
    set->deviation = sqrt(squares / (double)(set->count - 1));
    out->degrees += set->count - 1;
    out->set_count++;
    return squares;
}

static void from_repeats(const struct frame *f, struct dispersion *out)
{
    struct recorded r = {f, NULL};
    size_t *rows = mem_zero(f->n, sizeof *rows), n;
    double squares = 0, freedom;

    find_recorded(&r);
    n = sorted_rows(&r, rows);
    out->sets = mem_zero(n / 2, sizeof *out->sets);
    for (size_t i = 0, next; i < n; i = next) {
        for (next = i + 1; next < n && same_set_up(&r, rows[i], rows[next]); next++)
            ;
        squares += add_set(f, rows + i, next - i, out);
    }
    free(rows);
    free(r.column);
    out->value = out->low = out->high = NAN;
    if (out->degrees == 0)
        return;
    freedom = (double)out->degrees;
    out->value = sqrt(squares / freedom);
    out->low = sqrt(squares / gsl_cdf_chisq_Pinv(INTERVAL_HIGH, freedom));
    out->high = sqrt(squares / gsl_cdf_chisq_Pinv(INTERVAL_LOW, freedom));
}

/* ---- differing between levels ---- */

/* Residuals of the exact results, and their rows. */
struct residuals {
    double *r;
    size_t *rows, count;
};

static bool leading(const struct ranking *r, size_t column)
{
    for (size_t i = 0; i < r->count; i++)
        if (r->items[i].column == column)
            return r->items[i].chance >= SURE_HINT_FROM;
    return false;
}

/* Least squares on the columns of the variables that are at least a hint. */
static void take_residuals(const struct frame *f, const struct ranking *r, struct residuals *out)
{
    const struct model_matrix *c = &r->matrix;
    double *x = mem_zero(c->n * c->p, sizeof *x), *y = mem_zero(c->n, sizeof *y);
    size_t *columns = mem_zero(c->p, sizeof *columns), count = 1;
    struct linear_fit fit;

    for (size_t g = 0; g < c->group_count; g++)
        for (size_t j = 0; j < c->groups[g].count && leading(r, c->groups[g].column); j++)
            columns[count++] = c->groups[g].first + j;
    for (size_t i = 0; i < c->n; i++) {
        if (c->y[i].kind != MEASURE_EXACT)
            continue;
        for (size_t j = 0; j < count; j++)
            x[out->count * count + j] = c->x[i * c->p + columns[j]];
        y[out->count] = f->y[c->rows[i]].low;
        out->rows[out->count++] = c->rows[i];
    }
    if (out->count > count) {
        linear_fit_make(x, out->count, count, y, LINEAR_TOLERANCE, &fit);
        for (size_t i = 0; i < out->count; i++) {
            out->r[i] = y[i];
            for (size_t j = 0; j < count; j++)
                out->r[i] -= x[i * count + j] * fit.beta[j];
        }
        linear_fit_free(&fit);
    } else {
        out->count = 0;
    }
    free(x);
    free(y);
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
    struct dispersion_level *level = &out->levels[out->level_count];
    size_t *order, counts[2];
    double values[2], squares[2];
    bool *high;

    if (!two_values(c, res, values))
        return;
    high = mem_zero(res->count, sizeof *high);
    order = order_identity(res->count);
    for (size_t i = 0; i < res->count; i++)
        high[i] = c->x[res->rows[i]] == values[1];
    *level = (struct dispersion_level){
        .column = column, .low_value = values[0], .high_value = values[1]};
    level->log_ratio = log_ratio(res, high, order, counts, squares);
    if (counts[0] > 1 && counts[1] > 1 && isfinite(level->log_ratio)) {
        level->low_count = counts[0];
        level->high_count = counts[1];
        level->low_scatter = sqrt(squares[0] / (double)counts[0]);
        level->high_scatter = sqrt(squares[1] / (double)counts[1]);
        level->chance = permutation_chance(res, high, level->log_ratio, random);
        out->level_count++;
    }
    free(high);
    free(order);
}

static int by_chance(const void *a, const void *b)
{
    const struct dispersion_level *x = a, *y = b;

    if (x->chance != y->chance)
        return x->chance < y->chance ? -1 : 1;
    return (x->column > y->column) - (x->column < y->column);
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

static void between_levels(const struct frame *f, const struct ranking *r, uint64_t seed,
                           struct dispersion *out)
{
    const struct model_matrix *c = &r->matrix;
    struct residuals res = {mem_zero(c->n, sizeof *res.r), mem_zero(c->n, sizeof *res.rows), 0};
    struct random random = random_seeded(seed);

    take_residuals(f, r, &res);
    out->residuals = res.count;
    if (res.count >= MIN_RESIDUALS) {
        out->levels = mem_zero(c->group_count, sizeof *out->levels);
        for (size_t g = 0; g < c->group_count; g++)
            judge_column(f, c->groups[g].column, &res, &random, out);
        qsort(out->levels, out->level_count, sizeof *out->levels, by_chance);
        adjust(out->levels, out->level_count);
    }
    free(res.r);
    free(res.rows);
}

void dispersion_check(const struct frame *f, const struct ranking *r, uint64_t seed,
                      struct dispersion *out)
{
    *out = (struct dispersion){0};
    from_repeats(f, out);
    if (r != NULL)
        between_levels(f, r, seed, out);
}

void dispersion_free(struct dispersion *s)
{
    for (size_t i = 0; i < s->set_count; i++)
        free(s->sets[i].rows);
    free(s->sets);
    free(s->levels);
    *s = (struct dispersion){0};
}
