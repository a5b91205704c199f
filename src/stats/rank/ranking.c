#include "stats/rank/ranking.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/fit/effect.h"
#include "stats/fit/importance.h"
#include "stats/fit/model_average.h"
#include "stats/fit/prob_largest.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"
#include "stats/rank/permutation_check.h"

/* Part of the work done when the subsets are fitted; the rest is the intervals. */
#define FITTED 0.5

enum { SPARE_FOR_FIT = 3 }; /* exact results beyond the columns, to take the scatter from the fit */

struct ranking_job {
    const struct frame *f;
    struct ranking_options options;
    const struct model_matrix *matrix; /* of the answer, one row a coupon */
    struct model_matrix collapsed;     /* alike coupons together: what is fitted */
    struct model_average average;
    size_t done, to_do; /* intervals */
};

struct ranking_options ranking_usual(void)
{
    return (struct ranking_options){.intervals = true, .seed = 1};
}

enum sureness sureness_of(double chance)
{
    return chance >= SURE_CLEAR_FROM    ? SURE_CLEAR
           : chance >= SURE_LIKELY_FROM ? SURE_LIKELY
           : chance >= SURE_HINT_FROM   ? SURE_HINT
                                        : SURE_NO_SIGN;
}

double sureness_shown(double chance)
{
    double near = round(100 * chance) / 100;

    return sureness_of(near) == sureness_of(chance) ? near : floor(100 * chance) / 100;
}

const char *sureness_word(enum sureness s)
{
    static const char *const words[] = {"no sign", "a hint", "likely", "clear"};

    assert(s <= SURE_CLEAR);
    return words[s];
}

const char *scatter_from_code(enum scatter_from from)
{
    static const char *const codes[] = {"repeats", "fit", "assumed"};

    assert(from <= SCATTER_ASSUMED);
    return codes[from];
}

static bool fitting_progress(void *user, double done)
{
    const struct ranking_job *m = user;

    return m->options.progress(m->options.user, FITTED * done);
}

/* One interval more is done; false when the work is to stop. */
static bool interval_done(struct ranking_job *m)
{
    m->done++;
    return m->options.progress == NULL ||
           m->options.progress(m->options.user,
                               FITTED + (1 - FITTED) * (double)m->done / (double)m->to_do);
}

/* What the ranking rests on. */
static void describe(const struct ranking_job *m, struct ranking *out)
{
    out->coupons = m->f->n;
    out->used = m->matrix->n;
    for (size_t i = 0; i < m->matrix->n; i++)
        out->held += m->matrix->y[i].kind == MEASURE_AT_LEAST;
    out->set_ups = collapse_set_ups(m->matrix);
    out->repeats = out->used - out->set_ups;
    out->range = 6 * m->matrix->unit;
    out->subsets = m->average.count;
    out->searched = m->average.searched;
    out->approximated = m->average.approximated;
}

/* The scatter of like coupons, from the best source there is. */
static void find_scatter(const struct ranking_job *m, struct ranking *out)
{
    const struct model_matrix *c = &m->collapsed;
    double exact = 0, cells = 0;

    for (size_t i = 0; i < c->n; i++)
        if (c->y[i].kind == MEASURE_EXACT) {
            exact += c->y[i].weight;
            cells++;
        }
    out->scatter_fitted = m->average.scatter * c->unit;
    if (c->within > 0) {
        out->scatter = sqrt(c->within / (exact - cells)) * c->unit;
        out->scatter_from = SCATTER_REPEATS;
    } else if (exact >= (double)(c->p + SPARE_FOR_FIT)) {
        out->scatter = out->scatter_fitted;
        out->scatter_from = SCATTER_FIT;
    } else {
        out->scatter = out->range / 12;
        out->scatter_from = SCATTER_ASSUMED;
    }
}

/* Result at a level above the mean of the levels, coded units. */
static double level_height(const struct ranking_job *m, const struct model_group *g, size_t at)
{
    double *x = mem_zero(g->count, sizeof *x), height;

    model_matrix_level(g, at, x);
    height = linear_dot(x, m->average.beta + g->first, g->count);
    free(x);
    return height;
}

/* The difference between two places among the levels in use (or the ends of a number) of a group,
 * result's unit. */
static void measure_difference(struct ranking_job *m, size_t group, size_t from, size_t to,
                               double *effect, double *low, double *high)
{
    const struct model_group *g = &m->collapsed.groups[group];
    double *direction = mem_zero(g->count, sizeof *direction);
    struct effect_range range;

    effect_direction(g, from, to, direction);
    *effect = linear_dot(direction, m->average.beta + g->first, g->count) * m->collapsed.unit;
    *low = *high = NAN;
    if (m->options.intervals) {
        effect_range_make(&m->collapsed, &m->average, group, direction, &range);
        *low = range.low * m->collapsed.unit;
        *high = range.high * m->collapsed.unit;
    }
    free(direction);
}

static void count_levels(const struct ranking_job *m, const struct model_group *g, struct ranked *r)
{
    const double *x = m->f->columns[g->column].x;

    for (size_t i = 0; i < m->matrix->n; i++)
        for (size_t l = 0; l < r->level_count; l++)
            r->levels[l].coupons += (size_t)x[m->matrix->rows[i]] == r->levels[l].level;
}

/* One level against the reference; where that is the pair already measured, its figures. */
static void rank_level(struct ranking_job *m, size_t group, size_t reference,
                       const struct ranked *r, struct ranked_level *level)
{
    const struct model_group *g = &m->collapsed.groups[group];
    double base = (double)g->levels[reference], here = (double)level->level;

    if (r->from == base && r->to == here) {
        level->effect = r->effect;
        level->low = r->low;
        level->high = r->high;
    } else if (r->from == here && r->to == base) {
        level->effect = -r->effect;
        level->low = -r->high;
        level->high = -r->low;
    } else {
        measure_difference(m, group, reference, (size_t)(level - r->levels), &level->effect,
                           &level->low, &level->high);
    }
    level->anyway = level->effect * r->chance;
}

/* Every level in use against the one with most coupons. False when stopped. */
static bool rank_levels(struct ranking_job *m, size_t group, struct ranked *r)
{
    const struct model_group *g = &m->collapsed.groups[group];
    size_t reference = 0;

    r->level_count = g->level_count;
    r->levels = mem_zero(g->level_count, sizeof *r->levels);
    for (size_t l = 0; l < g->level_count; l++)
        r->levels[l].level = g->levels[l];
    count_levels(m, g, r);
    for (size_t l = 1; l < g->level_count; l++)
        if (r->levels[l].coupons > r->levels[reference].coupons)
            reference = l;
    r->levels[reference].reference = true;
    for (size_t l = 0; l < g->level_count; l++) {
        if (l == reference)
            continue;
        rank_level(m, group, reference, r, &r->levels[l]);
        if (!interval_done(m))
            return false;
    }
    return true;
}

/* Effect from the low to the high end, or between the two levels furthest apart. */
static bool rank_variable(struct ranking_job *m, size_t group, struct ranked *r)
{
    const struct model_group *g = &m->collapsed.groups[group];
    size_t lowest = 0, highest = g->level_count == 0;

    for (size_t l = 1; l < g->level_count; l++) {
        double height = level_height(m, g, l);

        if (height < level_height(m, g, lowest))
            lowest = l;
        if (height > level_height(m, g, highest))
            highest = l;
    }
    if (g->level_count > 0 && lowest == highest)
        highest = lowest + 1;
    r->column = g->column;
    r->alias_set = RANKING_NO_ALIAS;
    r->permutation_chance = NAN;
    r->chance = m->average.chance[group];
    r->from = g->level_count > 0 ? (double)g->levels[lowest] : g->low;
    r->to = g->level_count > 0 ? (double)g->levels[highest] : g->high;
    measure_difference(m, group, lowest, highest, &r->effect, &r->low, &r->high);
    return interval_done(m) && (g->level_count == 0 || rank_levels(m, group, r));
}

static int rank_all(struct ranking_job *m, struct ranking *out, struct error *e)
{
    const struct model_matrix *c = &m->collapsed;

    out->items = mem_zero(c->group_count, sizeof *out->items);
    out->count = c->group_count;
    for (size_t g = 0; g < c->group_count; g++)
        m->to_do += c->groups[g].level_count > 0 ? c->groups[g].level_count : 1;
    for (size_t g = 0; g < c->group_count; g++)
        if (!rank_variable(m, g, &out->items[g]))
            return error_set(e, ERROR_ANSWER, "Stopped before the ranking was done.");
    return 0;
}

/* Importance, probability of the largest effect, permutation check: one number a group each. */
static void fill_opinions(const struct ranking_job *m, struct ranking *out)
{
    size_t k = out->count;
    double *value = mem_zero(k, sizeof *value);

    out->unexplained = importance_split(&m->collapsed, m->options.seed, value);
    for (size_t g = 0; g < k; g++)
        out->items[g].importance = value[g];
    prob_largest(&m->collapsed, &m->average, m->options.seed, value);
    for (size_t g = 0; g < k; g++)
        out->items[g].prob_largest = value[g];
    if (m->options.permutations > 0) {
        permutation_check(m->matrix, m->options.permutations, m->options.seed, value);
        for (size_t g = 0; g < k; g++)
            out->items[g].permutation_chance = value[g];
    }
    free(value);
}

static struct ranked *item_of(struct ranking *r, size_t column)
{
    size_t i = 0;

    while (r->items[i].column != column)
        i++;
    return &r->items[i];
}

/* Two variables that always changed together have the same figures; rounding, an unfinished search
 * and random draws must not make them differ. */
static void even_out(const struct ranking_job *m, struct ranking *r, const struct alias_set *t)
{
    struct ranked *a = item_of(r, t->columns[0]), *b = item_of(r, t->columns[1]);
    const struct model_group *groups = m->collapsed.groups;

    if (groups[a - r->items].count != groups[b - r->items].count)
        return;
    a->chance = b->chance = 0.5 * (a->chance + b->chance);
    a->prob_largest = b->prob_largest = 0.5 * (a->prob_largest + b->prob_largest);
}

static void fill_aliasing(const struct ranking_job *m, struct ranking *out)
{
    aliasing_find(m->matrix, &out->aliasing);
    for (size_t i = 0; i < out->aliasing.count; i++) {
        struct alias_set *t = &out->aliasing.sets[i];
        uint64_t groups = 0;

        for (size_t j = 0; j < t->count; j++) {
            struct ranked *r = item_of(out, t->columns[j]);

            groups |= (uint64_t)1 << (r - out->items);
            if (t->exact && r->alias_set == RANKING_NO_ALIAS)
                r->alias_set = i;
        }
        t->chance = model_average_any(&m->average, groups);
        if (t->exact && t->count == 2 && !t->partly)
            even_out(m, out, t);
    }
}

/* By chance, then by the size of the effect, then in the frame's order. Numbers alike but for
 * rounding (a float holds 7 digits) count as equal, or the order would be the machine's. */
static int better_first(const void *u, const void *v)
{
    const struct ranked *a = u, *b = v;
    float chance_a = (float)a->chance, chance_b = (float)b->chance;
    float effect_a = (float)fabs(a->effect), effect_b = (float)fabs(b->effect);

    if (chance_a != chance_b)
        return ORDER(chance_b, chance_a);
    return effect_a != effect_b ? ORDER(effect_b, effect_a) : ORDER(a->column, b->column);
}

/* The leader of a variable: the place of the best one it is aliased with, directly or through
 * others. */
static void find_leaders(const struct ranking *r, size_t *leader)
{
    bool changed = true;

    for (size_t i = 0; i < r->count; i++)
        leader[i] = i;
    while (changed) {
        changed = false;
        for (size_t i = 0; i < r->count; i++)
            for (size_t j = 0; j < r->count; j++)
                if (leader[j] < leader[i] &&
                    aliasing_pair(&r->aliasing, r->items[i].column, r->items[j].column)) {
                    leader[i] = leader[j];
                    changed = true;
                }
    }
}

/* Best first; aliased variables follow the best of them and share its rank. */
static void order_items(struct ranking *r)
{
    struct ranked *ordered = mem_zero(r->count, sizeof *ordered);
    size_t *leader = mem_zero(r->count, sizeof *leader), at = 0;

    qsort(r->items, r->count, sizeof *r->items, better_first);
    find_leaders(r, leader);
    for (size_t i = 0; i < r->count; i++) {
        size_t rank = at + 1;

        for (size_t j = i; j < r->count && leader[i] == i; j++)
            if (leader[j] == i) {
                struct ranked *item = &ordered[at++];

                *item = r->items[j];
                item->rank = rank;
                item->word = sureness_of(item->chance);
                item->effect_anyway = item->effect * item->chance;
            }
    }
    free(r->items);
    r->items = ordered;
    free(leader);
}

static int run_job(struct ranking_job *m, struct ranking *out, struct error *e)
{
    struct model_average_options options = {.user = m};

    if (m->options.progress != NULL)
        options.progress = fitting_progress;
    if (model_matrix_make(m->f, &out->matrix, &out->excluded, e) != 0)
        return -1;
    if (m->matrix->n < MODEL_MATRIX_MIN_ROWS)
        return error_set(e, ERROR_ANSWER,
                         "Only %zu coupon%s can be used; a ranking needs at least %d with a result "
                         "and with every changed variable known.",
                         m->matrix->n, m->matrix->n == 1 ? "" : "s", MODEL_MATRIX_MIN_ROWS);
    collapse_rows(m->matrix, &m->collapsed);
    if (model_average_make(&m->collapsed, &options, &m->average, e) != 0)
        return -1;
    describe(m, out);
    find_scatter(m, out);
    if (rank_all(m, out, e) != 0)
        return -1;
    fill_opinions(m, out);
    fill_aliasing(m, out);
    order_items(out);
    return 0;
}

int ranking_make(const struct frame *f, const struct ranking_options *options, struct ranking *out,
                 struct error *e)
{
    struct ranking_job m = {
        .f = f, .matrix = &out->matrix, .options = options != NULL ? *options : ranking_usual()};
    int rc;

    *out = (struct ranking){0};
    rc = run_job(&m, out, e);
    if (rc != 0)
        ranking_free(out);
    model_average_free(&m.average);
    model_matrix_free(&m.collapsed);
    return rc;
}

void ranking_free(struct ranking *r)
{
    for (size_t i = 0; i < r->count; i++)
        free(r->items[i].levels);
    free(r->items);
    aliasing_free(&r->aliasing);
    exclusions_free(&r->excluded);
    model_matrix_free(&r->matrix);
    *r = (struct ranking){0};
}
