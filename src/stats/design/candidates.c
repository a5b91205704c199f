#include "stats/design/candidates.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/order.h"

/* Different values of a column among all coupons, rising; `v` has room for f->n. */
static size_t seen_values(const struct frame *f, size_t column, double *v)
{
    size_t n = 0;

    for (size_t i = 0; i < f->n; i++)
        if (!isnan(f->columns[column].x[i]))
            v[n++] = f->columns[column].x[i];
    return order_distinct(v, n);
}

/* A number's default: its tested ends and the tested value nearest to the middle between them,
 * which can be welded for certain (1.5 passes cannot). */
static size_t default_levels(const struct column *c, double *v, size_t n)
{
    size_t best = 0;
    double middle;

    if (c->category || n <= 3)
        return n;
    middle = (v[0] + v[n - 1]) / 2;
    for (size_t i = 1; i + 1 < n; i++)
        if (best == 0 || fabs(v[i] - middle) < fabs(v[best] - middle))
            best = i;
    v[1] = v[best];
    v[2] = v[n - 1];
    return 3;
}

static void add_group(struct candidates *s, size_t column, const double *at_hand, size_t count,
                      const double *all, size_t all_count)
{
    struct candidate_group *g = &s->groups[s->group_count++];

    g->group = (struct model_group){.column = column, .first = s->p};
    model_group_code(all, all_count, s->f->columns[column].category, &g->group);
    s->p += g->group.count;
    g->count = count;
    g->values = mem_zero(count, sizeof *g->values);
    memcpy(g->values, at_hand, count * sizeof *at_hand);
    g->codes = mem_zero(count * g->group.count, sizeof *g->codes);
    for (size_t i = 0; i < count; i++)
        model_group_row(&g->group, at_hand[i], g->codes + i * g->group.count);
    s->combinations *= (double)count;
}

static bool has_gaps(const struct frame *f, size_t column)
{
    for (size_t i = 0; i < f->n; i++)
        if (isnan(f->columns[column].x[i]))
            return true;
    return false;
}

/* Works out one column: a group, if allowed, when it has two values among those seen and at hand.
 */
static void add_column(struct candidates *s, size_t column, const struct design_levels *given,
                       bool allowed)
{
    size_t given_count = given == NULL ? 0 : given->count, capacity = s->f->n + given_count;
    double *all = mem_zero(capacity, sizeof *all), *at_hand = mem_zero(capacity, sizeof *at_hand);
    size_t seen = seen_values(s->f, column, all), count, all_count;

    memcpy(at_hand, all, seen * sizeof *all);
    count = default_levels(&s->f->columns[column], at_hand, seen);
    if (given_count > 0) {
        memcpy(at_hand, given->values, given_count * sizeof *at_hand);
        memcpy(all + seen, given->values, given_count * sizeof *at_hand);
        count = order_distinct(at_hand, given_count);
    }
    all_count = order_distinct(all, seen + given_count);
    s->only[column] = count == 1 ? at_hand[0] : NAN;
    if (allowed && all_count > 1)
        add_group(s, column, at_hand, count, all, all_count);
    free(all);
    free(at_hand);
}

static bool row_known(const struct candidates *s, size_t row)
{
    for (size_t g = 0; g < s->group_count; g++)
        if (isnan(s->f->columns[s->groups[g].group.column].x[row]))
            return false;
    return true;
}

static void add_rows(struct candidates *s)
{
    const struct frame *f = s->f;

    s->rows = mem_zero(f->n, sizeof *s->rows);
    for (size_t i = 0; i < f->n; i++)
        if (row_known(s, i))
            s->rows[s->n++] = i;
    s->x = mem_zero(s->n * s->p, sizeof *s->x);
    for (size_t i = 0; i < s->n; i++) {
        double *x = s->x + i * s->p;

        x[0] = 1;
        for (size_t g = 0; g < s->group_count; g++)
            model_group_row(&s->groups[g].group, candidates_value(s, i, g),
                            x + s->groups[g].group.first);
    }
}

static int by_row(const void *a, const void *b, void *user)
{
    const struct candidates *s = user;
    size_t i = *(const size_t *)a, j = *(const size_t *)b;
    int order = order_rows(s->x + i * s->p, s->x + j * s->p, s->p);

    return order != 0 ? order : ORDER(i, j);
}

/* The first coupon of every different set-up, in the order they were welded. */
static void find_setups(struct candidates *s)
{
    size_t *order = order_identity(s->n), kept = 0;

    qsort_r(order, s->n, sizeof *order, by_row, s);
    for (size_t i = 0; i < s->n; i++)
        if (i == 0 || order_rows(s->x + order[i] * s->p, s->x + order[kept - 1] * s->p, s->p) != 0)
            order[kept++] = order[i];
    order_indexes(order, kept);
    s->setups = order;
    s->setup_count = kept;
}

int candidates_make(const struct frame *f, const struct design_request *request,
                    struct candidates *out, struct error *e)
{
    const struct design_levels *levels = request->levels;

    *out = (struct candidates){.f = f, .p = 1, .combinations = 1};
    out->groups = mem_zero(f->k, sizeof *out->groups);
    out->only = mem_zero(f->k, sizeof *out->only);
    for (size_t c = 0; c < f->k; c++) {
        const struct design_levels *given =
            levels != NULL && levels[c].count > 0 ? &levels[c] : NULL;
        bool ranked = request->chance == NULL || !isnan(request->chance[c]);

        add_column(out, c, given, given != NULL || ranked || !has_gaps(f, c));
    }
    if (out->combinations < 2) {
        candidates_free(out);
        return error_set(e, ERROR_ANSWER,
                         "nothing to choose between: no variable has two levels at hand; give "
                         "at least one variable of the trial two levels");
    }
    add_rows(out);
    find_setups(out);
    return 0;
}

void candidates_free(struct candidates *s)
{
    for (size_t g = 0; g < s->group_count; g++) {
        free(s->groups[g].group.levels);
        free(s->groups[g].values);
        free(s->groups[g].codes);
    }
    free(s->groups);
    free(s->only);
    free(s->rows);
    free(s->x);
    free(s->setups);
    *s = (struct candidates){0};
}

void candidates_row(const struct candidates *s, const size_t *choice, double *x)
{
    x[0] = 1;
    for (size_t g = 0; g < s->group_count; g++) {
        const struct candidate_group *group = &s->groups[g];

        memcpy(x + group->group.first, group->codes + choice[g] * group->group.count,
               group->group.count * sizeof *x);
    }
}

double candidates_value(const struct candidates *s, size_t at, size_t group)
{
    return s->f->columns[s->groups[group].group.column].x[s->rows[at]];
}

void candidates_values(const struct candidates *s, const size_t *choice, double *values)
{
    for (size_t g = 0; g < s->group_count; g++)
        values[g] = s->groups[g].values[choice[g]];
}

void candidates_code(const struct candidates *s, const double *values, double *x)
{
    x[0] = 1;
    for (size_t g = 0; g < s->group_count; g++)
        model_group_row(&s->groups[g].group, values[g], x + s->groups[g].group.first);
}

static size_t changes_from(const struct candidates *s, const double *values, size_t at)
{
    size_t changes = 0;

    for (size_t g = 0; g < s->group_count; g++)
        changes += values[g] != candidates_value(s, at, g);
    return changes;
}

size_t candidates_nearest(const struct candidates *s, const double *values, size_t *at)
{
    size_t fewest = (size_t)-1;

    assert(s->setup_count > 0);
    for (size_t i = 0; i < s->setup_count; i++) {
        size_t changes = changes_from(s, values, s->setups[i]);

        if (changes < fewest) {
            fewest = changes;
            *at = s->setups[i];
        }
    }
    return fewest;
}

bool candidates_next(const struct candidates *s, size_t *choice)
{
    for (size_t g = s->group_count; g > 0; g--) {
        if (++choice[g - 1] < s->groups[g - 1].count)
            return true;
        choice[g - 1] = 0;
    }
    return false;
}
