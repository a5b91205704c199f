#include "stats/rank/interactions.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/data/model_matrix.h"
#include "stats/fit/effect.h"
#include "stats/fit/model_average.h"
#include "stats/rank/aliasing.h"
#include "stats/rank/ranking.h"

/* Above this many coupons, sorting alike ones together costs more than it saves. */
enum { COLLAPSE_UP_TO = 5000 };

#define NOTHING 1e-10 /* part of a column's squares that counts as nothing left of it */
#define SAME 1e-6     /* two products this close to parallel count as one */

/*
 * What all pairs share. `moments` are those of the columns of c.x and, behind them, of the products
 * of the pairs, with what the columns of x explain taken out: gathered row by row, so that a large
 * book needs no room for its products.
 */
struct screen {
    const struct ranking *r;
    const struct model_matrix *c;
    double *moments; /* width × width */
    size_t width, rank;
};

/* One pair's own frame: the two, some others, and the product last. */
struct pair_model {
    struct model_matrix c;
    size_t a, b, product; /* groups */
    double prior;         /* of the product, given that both singles are in */
};

/* A pair while it is tested. */
struct entry {
    struct interaction pair;
    size_t a, b, place; /* groups; place of the product among the moments */
};

static void gather_moments(struct screen *s, const struct entry *entries, size_t count)
{
    double *z = mem_zero(s->width, sizeof *z);

    s->moments = mem_zero(s->width * s->width, sizeof *s->moments);
    for (size_t i = 0; i < s->c->n; i++) {
        const double *x = s->c->x + i * s->c->p;

        memcpy(z, x, s->c->p * sizeof *z);
        for (size_t k = 0; k < count; k++)
            z[entries[k].place] =
                x[s->c->groups[entries[k].a].first] * x[s->c->groups[entries[k].b].first];
        for (size_t j = 0; j < s->width; j++)
            for (size_t k = 0; k <= j; k++)
                s->moments[j * s->width + k] += z[j] * z[k];
    }
    free(z);
}

/* Takes column `pivot` out of all behind it, unless nothing was left of it by itself. */
static void take_out(struct screen *s, size_t pivot, double before)
{
    size_t w = s->width;
    double *m = s->moments, left = m[pivot * w + pivot];

    if (left <= NOTHING * before)
        return;
    s->rank++;
    for (size_t j = pivot + 1; j < w; j++)
        for (size_t k = pivot + 1; k <= j; k++)
            m[j * w + k] -= m[j * w + pivot] * m[k * w + pivot] / left;
}

/* Keeps the pairs whose product is no combination of the single variables. */
static size_t keep_separable(struct screen *s, struct entry *entries, size_t count)
{
    double *before = mem_zero(s->width, sizeof *before);
    size_t kept = 0;

    gather_moments(s, entries, count);
    for (size_t j = 0; j < s->width; j++)
        before[j] = s->moments[j * (s->width + 1)];
    for (size_t j = 0; j < s->c->p; j++)
        take_out(s, j, before[j]);
    for (size_t i = 0; i < count && s->c->n >= s->rank + 3; i++) {
        size_t place = entries[i].place;

        if (s->moments[place * (s->width + 1)] > NOTHING * before[place])
            entries[kept++] = entries[i];
    }
    free(before);
    return kept;
}

static bool is_aliased(const struct ranking *r, size_t column)
{
    for (size_t i = 0; i < r->aliasing.count; i++)
        for (size_t j = 0; r->aliasing.sets[i].exact && j < r->aliasing.sets[i].count; j++)
            if (r->aliasing.sets[i].columns[j] == column)
                return true;
    return false;
}

static void count_corners(const struct model_matrix *c, size_t a, size_t b, size_t corners[4])
{
    memset(corners, 0, 4 * sizeof *corners);
    for (size_t i = 0; i < c->n; i++) {
        const double *x = c->x + i * c->p;

        corners[(x[c->groups[a].first] > 0) + 2 * (x[c->groups[b].first] > 0)]++;
    }
}

/* Are both variables single columns, in no exact alias set, and is there a coupon in each corner?
 */
static bool take_pair(const struct screen *s, size_t a, size_t b, struct interaction *pair)
{
    const struct model_group *ga = &s->c->groups[a], *gb = &s->c->groups[b];

    if (ga->count != 1 || gb->count != 1)
        return false;
    *pair = (struct interaction){.a = ga->column, .b = gb->column, .same_as = INTERACTIONS_ALONE};
    count_corners(s->c, a, b, pair->corners);
    for (int i = 0; i < 4; i++)
        if (pair->corners[i] == 0)
            return false;
    return !is_aliased(s->r, pair->a) && !is_aliased(s->r, pair->b);
}

static size_t group_of(const struct model_matrix *c, size_t column)
{
    size_t g = 0;

    while (c->groups[g].column != column)
        g++;
    return g;
}

/* The levels are not needed: nothing is coded any more. */
static void copy_group(const struct model_matrix *from, size_t group, struct model_matrix *to)
{
    struct model_group *mine = &to->groups[to->group_count++];

    *mine = from->groups[group];
    mine->levels = NULL;
    mine->level_count = 0;
    mine->first = to->p;
    to->p += mine->count;
}

/* Fills in x of the pair's frame from that of all variables; the product is last. */
static void copy_rows(const struct model_matrix *from, struct pair_model *m)
{
    struct model_matrix *to = &m->c;

    to->x = mem_zero(to->n * to->p, sizeof *to->x);
    for (size_t i = 0; i < to->n; i++) {
        double *x = to->x + i * to->p;

        x[0] = 1;
        for (size_t g = 0; g < m->product; g++) {
            size_t source = group_of(from, to->groups[g].column);

            memcpy(x + to->groups[g].first, from->x + i * from->p + from->groups[source].first,
                   to->groups[g].count * sizeof *x);
        }
        x[to->p - 1] = x[to->groups[m->a].first] * x[to->groups[m->b].first];
    }
}

/* A column x_a x_b of coefficient β changes the effect of a by β from the low to the high end of b,
 * and takes the same prior as an effect. */
static void add_product(struct model_matrix *c)
{
    c->groups[c->group_count++] =
        (struct model_group){.column = NO_COLUMN,
                             .first = c->p,
                             .count = 1,
                             .lambda = 1 / (MODEL_MATRIX_TAU * MODEL_MATRIX_TAU),
                             .low = -0.5,
                             .high = 0.5};
    c->p++;
}

static void pair_model_make(const struct screen *s, const struct interaction *pair, double prior,
                            struct pair_model *m)
{
    const struct model_matrix *from = s->c;
    size_t others = 0;

    *m =
        (struct pair_model){.c = {.n = from->n, .p = 1, .centre = from->centre, .unit = from->unit},
                            .a = 0,
                            .b = 1,
                            .prior = prior};
    m->c.groups = mem_zero(INTERACTIONS_OTHERS + 3, sizeof *m->c.groups);
    m->c.y = mem_zero(from->n, sizeof *m->c.y);
    memcpy(m->c.y, from->y, from->n * sizeof *m->c.y);
    copy_group(from, group_of(from, pair->a), &m->c);
    copy_group(from, group_of(from, pair->b), &m->c);
    for (size_t i = 0; i < s->r->count && others < INTERACTIONS_OTHERS; i++) {
        size_t column = s->r->items[i].column;

        if (column == pair->a || column == pair->b)
            continue;
        copy_group(from, group_of(from, column), &m->c);
        others++;
    }
    m->product = m->c.group_count;
    add_product(&m->c);
    m->c.lambda = mem_zero(m->c.p, sizeof *m->c.lambda);
    for (size_t g = 0; g < m->c.group_count; g++)
        for (size_t j = 0; j < m->c.groups[g].count; j++)
            m->c.lambda[m->c.groups[g].first + j] = m->c.groups[g].lambda;
    copy_rows(from, m);
}

static double pair_prior(uint64_t groups, size_t group_count, const void *user)
{
    const struct pair_model *m = user;
    uint64_t product = (uint64_t)1 << m->product, both = (uint64_t)3;
    bool in = groups & product, heirs = (groups & both) == both;
    double singles = model_average_prior_by_size(groups & ~product, group_count - 1, NULL);

    if (!heirs)
        return in ? -INFINITY : singles;
    return singles + log(in ? m->prior : 1 - m->prior);
}

/* Mean of a column's coefficient over the subsets that hold the product. */
static double given_product(const struct pair_model *m, const struct model_average *a,
                            size_t column)
{
    double sum = 0, weights = 0;

    for (size_t i = 0; i < a->count; i++) {
        const struct subset *s = &a->subsets[i];

        if (!(s->groups >> m->product & 1) || !(s->weight > 0))
            continue;
        weights += s->weight;
        sum += s->weight * s->gamma[column] / s->h;
    }
    return weights > 0 ? sum / weights : NAN;
}

static void read_pair(const struct pair_model *m, const struct model_average *average,
                      struct interaction *pair)
{
    const double direction = 1, unit = m->c.unit;
    double a = unit * given_product(m, average, m->c.groups[m->a].first);
    double b = unit * given_product(m, average, m->c.groups[m->b].first);
    struct effect_range range = {NAN, NAN, NAN, NAN};

    pair->chance = average->chance[m->product];
    pair->effect = unit * given_product(m, average, m->c.p - 1);
    pair->a_at_low = a - pair->effect / 2;
    pair->a_at_high = a + pair->effect / 2;
    pair->b_at_low = b - pair->effect / 2;
    pair->b_at_high = b + pair->effect / 2;
    if (pair->chance >= SURE_HINT_FROM)
        effect_range_make(&m->c, average, m->product, &direction, &range);
    pair->low = unit * range.low;
    pair->high = unit * range.high;
}

static int judge_pair(const struct screen *s, double prior, struct interaction *pair,
                      struct error *e)
{
    struct pair_model m;
    struct model_average_options options = {.log_prior = pair_prior, .prior_user = &m};
    struct model_average average;
    struct model_matrix rows;
    int rc;

    pair_model_make(s, pair, prior, &m);
    if (m.c.n <= COLLAPSE_UP_TO) {
        rows = m.c;
        collapse_rows(&rows, &m.c);
        model_matrix_free(&rows);
    }
    rc = model_average_make(&m.c, &options, &average, e);
    if (rc == 0) {
        read_pair(&m, &average, pair);
        model_average_free(&average);
    }
    model_matrix_free(&m.c);
    return rc;
}

static int by_chance(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;

    if (x->pair.chance != y->pair.chance)
        return x->pair.chance > y->pair.chance ? -1 : 1;
    if (x->pair.a != y->pair.a)
        return x->pair.a < y->pair.a ? -1 : 1;
    return (x->pair.b > y->pair.b) - (x->pair.b < y->pair.b);
}

static double moment(const struct screen *s, size_t i, size_t j)
{
    return s->moments[(i > j ? i : j) * s->width + (i > j ? j : i)];
}

static void find_same(const struct screen *s, struct entry *entries, size_t count)
{
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < i && entries[i].pair.same_as == INTERACTIONS_ALONE; j++) {
            size_t p = entries[i].place, q = entries[j].place;
            double along = fabs(moment(s, p, q)) / sqrt(moment(s, p, p) * moment(s, q, q));

            if (along > 1 - SAME && entries[j].pair.same_as == INTERACTIONS_ALONE)
                entries[i].pair.same_as = j;
        }
}

static size_t take_pairs(struct screen *s, struct entry *entries)
{
    size_t count = 0;

    for (size_t a = 0; a < s->c->group_count; a++)
        for (size_t b = a + 1; b < s->c->group_count; b++)
            if (take_pair(s, a, b, &entries[count].pair)) {
                entries[count].a = a;
                entries[count].b = b;
                entries[count].place = s->c->p + count;
                count++;
            }
    s->width = s->c->p + count;
    return keep_separable(s, entries, count);
}

static int judge_all(const struct screen *s, struct entry *entries, size_t count,
                     struct interactions *out, struct error *e)
{
    /* Shared so that the chance beforehand that any of them is there stays the same. */
    double prior = 1 - pow(1 - INTERACTIONS_PRIOR, 1 / fmax(1, (double)count));

    for (size_t i = 0; i < count; i++)
        if (judge_pair(s, prior, &entries[i].pair, e) != 0)
            return -1;
    qsort(entries, count, sizeof *entries, by_chance);
    find_same(s, entries, count);
    out->pairs = mem_zero(count, sizeof *out->pairs);
    out->count = count;
    for (size_t i = 0; i < count; i++)
        out->pairs[i] = entries[i].pair;
    return 0;
}

int interactions_screen(const struct ranking *r, struct interactions *out, struct error *e)
{
    struct screen s = {.r = r, .c = &r->matrix};
    struct entry *entries;
    int rc;

    *out = (struct interactions){.possible = r->count * (r->count - 1) / 2};
    entries = mem_zero(out->possible + 1, sizeof *entries);
    rc = judge_all(&s, entries, take_pairs(&s, entries), out, e);
    free(entries);
    free(s.moments);
    return rc;
}

void interactions_free(struct interactions *c)
{
    free(c->pairs);
    *c = (struct interactions){0};
}
