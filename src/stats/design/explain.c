#include "stats/design/explain.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/order.h"

/* Above this many coupons, aliases are searched among the different set-ups only. */
enum { ALIASES_FROM_ALL = 2000 };

/* Level names do not matter here, only that their order is that of the indexes. */
static void add_levels(struct frame *f, size_t column, size_t count)
{
    char name[32];

    for (size_t i = 0; i < count; i++) {
        snprintf(name, sizeof name, "%020zu", i);
        frame_level(f, column, name);
    }
}

/* One coupon more: `values`, or a welded one. The results only have to differ. */
static void add_row(struct explanation *e, const double *values, size_t welded)
{
    size_t row = frame_add_row(&e->f, "", measure_exact((double)e->f.n));

    for (size_t g = 0; g < e->f.k; g++)
        e->f.columns[g].x[row] =
            values != NULL ? values[g] : candidates_value(e->candidates, welded, g);
}

static void find_aliases(struct explanation *e)
{
    struct model_matrix matrix;

    e->found = (struct aliasing){0};
    if (model_matrix_make(&e->f, &matrix, NULL, NULL) == 0) {
        aliasing_find(&matrix, &e->found);
        model_matrix_free(&matrix);
    }
}

void explain_begin(const struct candidates *s, struct criterion *criterion, struct explanation *out)
{
    bool all = s->n <= ALIASES_FROM_ALL;

    *out = (struct explanation){.candidates = s, .criterion = criterion};
    frame_init(&out->f, "", "", "", 0);
    for (size_t g = 0; g < s->group_count; g++) {
        const struct model_group *c = &s->groups[g].group;

        frame_add_column(&out->f, "", "", "", c->levels != NULL);
        if (c->levels != NULL)
            add_levels(&out->f, g, c->levels[c->level_count - 1] + 1);
    }
    for (size_t i = 0; i < (all ? s->n : s->setup_count); i++)
        add_row(out, NULL, all ? i : s->setups[i]);
    find_aliases(out);
}

void explain_end(struct explanation *e)
{
    aliasing_free(&e->found);
    frame_free(&e->f);
}

static bool same_columns(const struct alias_set *a, const struct alias_set *b)
{
    size_t shared = 0;

    for (size_t i = 0; i < a->count; i++)
        for (size_t j = 0; j < b->count; j++)
            shared += a->columns[i] == b->columns[j];
    return a->count == b->count && shared == a->count;
}

/* An exact set must still be exact; a near one may be either. */
static bool still_aliased(const struct alias_set *set, const struct aliasing *after)
{
    for (size_t i = 0; i < after->count; i++)
        if (same_columns(set, &after->sets[i]) && (after->sets[i].exact || !set->exact))
            return true;
    return false;
}

static void add_set(struct design_coupon *out, const struct candidates *s, const size_t *groups,
                    size_t count, bool exact)
{
    struct design_set *set = &out->separates[out->separate_count++];

    *set = (struct design_set){mem_zero(count, sizeof *set->columns), count, exact};
    for (size_t i = 0; i < count; i++)
        set->columns[i] = s->groups[groups[i]].group.column;
}

/* Has the group had one value so far, among the welded and the earlier chosen? */
static bool never_changed(const struct frame *f, size_t group)
{
    const double *x = f->columns[group].x;

    for (size_t i = 1; i < f->n; i++)
        if (x[i] != x[0])
            return false;
    return f->n > 0;
}

/* Adds the coupon to those so far. */
static void explain_separates(struct explanation *e, const double *mine, struct design_coupon *out)
{
    const struct candidates *s = e->candidates;
    struct aliasing before = e->found;
    bool *begun = mem_zero(s->group_count, sizeof *begun);

    for (size_t g = 0; g < s->group_count; g++)
        begun[g] = never_changed(&e->f, g) && mine[g] != e->f.columns[g].x[0];
    add_row(e, mine, 0);
    find_aliases(e);
    out->separates = mem_zero(before.count + s->group_count, sizeof *out->separates);
    for (size_t i = 0; i < before.count; i++)
        if (!still_aliased(&before.sets[i], &e->found))
            add_set(out, s, before.sets[i].columns, before.sets[i].count, before.sets[i].exact);
    for (size_t g = 0; g < s->group_count; g++)
        if (begun[g])
            add_set(out, s, &g, 1, true);
    aliasing_free(&before);
    free(begun);
}

static void explain_changed(const struct candidates *s, const double *values, const double *than,
                            size_t welded, struct design_coupon *out)
{
    out->changed_count = 0;
    for (size_t g = 0; g < s->group_count; g++)
        if (values[g] != (than != NULL ? than[g] : candidates_value(s, welded, g)))
            out->changed[out->changed_count++] = s->groups[g].group.column;
}

/* Which coupon it is most like: a welded one, or one chosen earlier if that is nearer still. */
static void explain_like(const struct candidates *s, const double *values, size_t at,
                         struct design_coupon *out)
{
    const double *mine = values + at * s->group_count;
    size_t nearest = 0, fewest = (size_t)-1;

    out->changed = mem_zero(s->group_count, sizeof *out->changed);
    out->like = out->like_chosen = SIZE_MAX;
    if (s->n > 0) {
        fewest = candidates_nearest(s, mine, &nearest);
        out->like = s->rows[nearest];
        out->repeat = fewest == 0;
        explain_changed(s, mine, NULL, nearest, out);
    }
    for (size_t i = 0; i < at; i++) {
        struct design_coupon other = {.changed = mem_zero(s->group_count, sizeof *other.changed)};

        explain_changed(s, mine, values + i * s->group_count, 0, &other);
        if (other.changed_count < fewest) {
            fewest = out->changed_count = other.changed_count;
            memcpy(out->changed, other.changed, fewest * sizeof *out->changed);
            out->like_chosen = i;
            out->like = SIZE_MAX;
        }
        free(other.changed);
    }
}

static int by_fall(const void *a, const void *b)
{
    const struct design_gain *x = a, *y = b;
    double p = x->after / x->before, q = y->after / y->before;

    return p != q ? ORDER(p, q) : ORDER(x->column, y->column);
}

static void explain_gains(const struct candidates *s, struct criterion *criterion, const double *x,
                          struct design_coupon *out)
{
    out->gains = mem_zero(s->group_count, sizeof *out->gains);
    out->gain_count = s->group_count;
    for (size_t g = 0; g < s->group_count; g++)
        out->gains[g] = (struct design_gain){
            s->groups[g].group.column, criterion_deviation(criterion, &s->groups[g].group), 0};
    criterion_add(criterion, x, 1);
    for (size_t g = 0; g < s->group_count; g++)
        out->gains[g].after = criterion_deviation(criterion, &s->groups[g].group);
    qsort(out->gains, out->gain_count, sizeof *out->gains, by_fall);
}

void explain_coupon(struct explanation *e, const double *values, size_t at,
                    struct design_coupon *out)
{
    const struct candidates *s = e->candidates;
    const double *mine = values + at * s->group_count;
    double *x = mem_zero(s->p, sizeof *x);

    *out = (struct design_coupon){.values = mem_zero(s->f->k, sizeof *out->values)};
    memcpy(out->values, s->only, s->f->k * sizeof *out->values);
    for (size_t g = 0; g < s->group_count; g++)
        out->values[s->groups[g].group.column] = mine[g];
    candidates_code(s, mine, x);
    out->score = criterion_value(e->criterion, x);
    out->expected = criterion_expected(e->criterion, x);
    out->chance_held = criterion_chance_held(e->criterion, x);
    explain_like(s, values, at, out);
    explain_separates(e, mine, out);
    explain_gains(s, e->criterion, x, out);
    free(x);
}

void design_coupon_free(struct design_coupon *c)
{
    for (size_t i = 0; i < c->separate_count; i++)
        free(c->separates[i].columns);
    free(c->separates);
    free(c->values);
    free(c->changed);
    free(c->gains);
    *c = (struct design_coupon){0};
}
