#include "stats/rank/outliers.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/fit/model_average.h"
#include "stats/fit/predict.h"
#include "stats/num/interval.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"
#include "stats/rank/ranking.h"

/* With more variables than this the subsets are searched, and only until order and words are
 * settled: the ranking is made once for every coupon. */
enum { SEARCH_ABOVE = 8 };
#define SEARCH_WORTH 5.0

/* x of a frame row; false when a value is missing or its level is not in use. */
static bool code_row(const struct frame *f, const struct model_matrix *c, size_t row, double *x)
{
    double *values = mem_zero(c->group_count, sizeof *values);
    bool known = true;

    for (size_t g = 0; g < c->group_count; g++) {
        const struct model_group *group = &c->groups[g];
        bool in_use = group->levels == NULL;

        values[g] = f->columns[group->column].x[row];
        for (size_t l = 0; l < group->level_count; l++)
            in_use = in_use || (double)group->levels[l] == values[g];
        known = known && in_use && !isnan(values[g]);
    }
    if (known)
        model_matrix_row(c, values, x);
    free(values);
    return known;
}

/* How often a result would be as far out as this one. */
static double tail(const struct prediction *p, struct measure y)
{
    double down = y.high < INFINITY ? prediction_below(p, y.high) : 1;
    double up = y.low > -INFINITY ? 1 - prediction_below(p, y.low) : 1;

    if (!(y.high < INFINITY) || !(y.low > -INFINITY))
        return fmin(down, up);
    return fmin(1, 2 * fmin(down, up));
}

static void judge(const struct predictor *predictor, const double *x, struct measure y,
                  struct outlier_check *out)
{
    struct prediction p;

    predict(predictor, x, &p);
    out->expected = prediction_mean(&p);
    out->low = prediction_point(&p, INTERVAL_LOW);
    out->high = prediction_point(&p, INTERVAL_HIGH);
    out->chance = tail(&p, y);
    prediction_free(&p);
}

struct place {
    size_t column;
    double chance, effect; /* squared length of its coefficients: orders equal chances */
};

static int by_place(const void *a, const void *b)
{
    const struct place *x = a, *y = b;

    if (fabs(x->chance - y->chance) > 1e-9)
        return ORDER(y->chance, x->chance);
    return x->effect != y->effect ? ORDER(y->effect, x->effect) : ORDER(x->column, y->column);
}

static void order_columns(const struct frame *f, const struct model_matrix *c,
                          const struct model_average *a, struct outlier_check *out)
{
    struct place *places = mem_zero(c->group_count, sizeof *places);

    out->chances = mem_zero(f->k, sizeof *out->chances);
    out->order = mem_zero(c->group_count, sizeof *out->order);
    out->order_count = c->group_count;
    for (size_t j = 0; j < f->k; j++)
        out->chances[j] = NAN;
    for (size_t g = 0; g < c->group_count; g++) {
        const double *beta = a->beta + c->groups[g].first;

        places[g] = (struct place){c->groups[g].column, a->chance[g],
                                   linear_dot(beta, beta, c->groups[g].count)};
        out->chances[places[g].column] = a->chance[g];
    }
    qsort(places, c->group_count, sizeof *places, by_place);
    for (size_t g = 0; g < c->group_count; g++)
        out->order[g] = places[g].column;
    free(places);
}

/* Is the first variable without the coupon among those that are first with it? Below a hint either
 * way the first place means nothing and counts as kept. */
static bool first_kept(const struct ranking *r, const struct outlier_check *o)
{
    if (o->order_count == 0)
        return false;
    if (r->items[0].chance < SURE_HINT_FROM && o->chances[o->order[0]] < SURE_HINT_FROM)
        return true;
    for (size_t i = 0; i < r->count && r->items[i].rank == r->items[0].rank; i++)
        if (r->items[i].column == o->order[0])
            return true;
    return false;
}

static bool words_kept(const struct ranking *r, const struct outlier_check *o)
{
    for (size_t i = 0; i < r->count; i++) {
        double chance = o->chances[r->items[i].column];
        enum sureness with = r->items[i].word, without = sureness_of(isnan(chance) ? 0 : chance);

        if ((with >= SURE_LIKELY && without < SURE_HINT) ||
            (with < SURE_HINT && without >= SURE_LIKELY))
            return false;
    }
    return true;
}

/* The ranking without one coupon, and its prediction of that coupon. */
static void leave_out(const struct frame *f, const struct ranking *r, struct outlier_check *o)
{
    struct model_average_options options = {.all = f->k > SEARCH_ABOVE ? SEARCH_ABOVE : 0,
                                            .worth = SEARCH_WORTH};
    struct frame others = *f;
    struct predictor predictor = {0};
    struct model_average average = {0};
    struct model_matrix matrix = {0}, rows = {0};
    double *x = NULL;

    o->alone = true;
    o->expected = o->low = o->high = o->chance = NAN;
    others.y = mem_zero(f->n, sizeof *others.y);
    memcpy(others.y, f->y, f->n * sizeof *others.y);
    others.y[o->row] = measure_missing();
    if (model_matrix_make(&others, &rows, NULL, NULL) != 0)
        goto cleanup;
    collapse_rows(&rows, &matrix);
    if (model_average_make(&matrix, &options, &average, NULL) != 0)
        goto cleanup;
    order_columns(f, &matrix, &average, o);
    o->same_first = first_kept(r, o);
    o->same_words = words_kept(r, o);
    x = mem_zero(matrix.p, sizeof *x);
    /* A variable that no longer changes was changed by this coupon alone. */
    o->alone = matrix.group_count < r->count || !code_row(f, &matrix, o->row, x);
    if (!o->alone) {
        predictor_make(&matrix, &average, &predictor);
        judge(&predictor, x, f->y[o->row], o);
    }
cleanup:
    free(x);
    predictor_free(&predictor);
    model_average_free(&average);
    model_matrix_free(&matrix);
    model_matrix_free(&rows);
    free(others.y);
}

static int by_chance(const void *a, const void *b)
{
    const struct outlier_check *x = a, *y = b;

    if (x->alone != y->alone)
        return ORDER(x->alone, y->alone);
    return !x->alone && x->chance != y->chance ? ORDER(x->chance, y->chance)
                                               : ORDER(x->row, y->row);
}

/* With many coupons: those least likely under the ranking that includes them. */
static int pick_surprising(const struct frame *f, const struct ranking *r,
                           struct outlier_check *picked, struct error *e)
{
    const struct model_matrix *c = &r->matrix;
    struct predictor predictor;
    struct model_average average;

    if (model_average_make(c, NULL, &average, e) != 0)
        return -1;
    predictor_make(c, &average, &predictor);
    for (size_t i = 0; i < c->n; i++) {
        struct prediction p;

        predict(&predictor, c->x + i * c->p, &p);
        picked[i].chance = tail(&p, f->y[picked[i].row]);
        prediction_free(&p);
    }
    qsort(picked, c->n, sizeof *picked, by_chance);
    predictor_free(&predictor);
    model_average_free(&average);
    return 0;
}

int outliers_find(const struct frame *f, const struct ranking *r, struct outliers *out,
                  struct error *e)
{
    assert(r->matrix.n == r->used);
    *out = (struct outliers){.count = r->used, .all = true, .steady = true};
    out->coupons = mem_zero(r->used, sizeof *out->coupons);
    for (size_t i = 0; i < r->used; i++)
        out->coupons[i].row = r->matrix.rows[i];
    if (r->used > OUTLIERS_ALL) {
        if (pick_surprising(f, r, out->coupons, e) != 0) {
            outliers_free(out);
            return -1;
        }
        out->count = r->used > OUTLIERS_MANY ? OUTLIERS_FEW : OUTLIERS_ALL;
        out->all = false;
    }
    for (size_t i = 0; i < out->count; i++) {
        struct outlier_check *o = &out->coupons[i];

        leave_out(f, r, o);
        o->outlier = !o->alone && o->chance * (double)r->used < OUTLIERS_BELOW;
        out->steady = out->steady && (o->order_count == 0 || (o->same_first && o->same_words));
    }
    qsort(out->coupons, out->count, sizeof *out->coupons, by_chance);
    return 0;
}

void outliers_free(struct outliers *o)
{
    for (size_t i = 0; i < o->count; i++) {
        free(o->coupons[i].order);
        free(o->coupons[i].chances);
    }
    free(o->coupons);
    *o = (struct outliers){0};
}
