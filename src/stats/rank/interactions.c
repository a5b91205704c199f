#include "stats/rank/interactions.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/data/model_matrix.h"
#include "stats/fit/effect.h"
#include "stats/fit/model_average.h"
#include "stats/num/order.h"
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

/* The groups of one pair's own matrix: the two, some others, and the product last. */
enum { A, B };

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
    return !aliasing_pair(&s->r->aliasing, pair->a, pair->a) &&
           !aliasing_pair(&s->r->aliasing, pair->b, pair->b);
}

static const struct model_group *group_of(const struct model_matrix *c, size_t column)
{
    size_t g = 0;

    while (c->groups[g].column != column)
        g++;
    return &c->groups[g];
}

/* Appends `count` columns that come from those of `column` of the frame. The levels are not needed:
 * nothing is coded any more. */
static void add_group(struct model_matrix *c, size_t column, size_t count, double lambda)
{
    c->groups[c->group_count++] =
        (struct model_group){.column = column, .first = c->p, .count = count, .lambda = lambda};
    c->p += count;
}

static void copy_group(const struct model_matrix *from, size_t column, struct model_matrix *to)
{
    const struct model_group *group = group_of(from, column);

    add_group(to, column, group->count, group->lambda);
}

/* Fills in x of the pair's matrix from that of all variables; the product is last. */
static void copy_rows(const struct model_matrix *from, struct model_matrix *to)
{
    to->x = mem_zero(to->n * to->p, sizeof *to->x);
    for (size_t i = 0; i < to->n; i++) {
        double *x = to->x + i * to->p;

        x[0] = 1;
        for (size_t g = 0; g + 1 < to->group_count; g++)
            memcpy(x + to->groups[g].first,
                   from->x + i * from->p + group_of(from, to->groups[g].column)->first,
                   to->groups[g].count * sizeof *x);
        x[to->p - 1] = x[to->groups[A].first] * x[to->groups[B].first];
    }
}

/* A column x_a x_b of coefficient β changes the effect of a by β from the low to the high end of b,
 * and takes the same prior as an effect. */
static void pair_matrix_make(const struct screen *s, const struct interaction *pair,
                             struct model_matrix *out)
{
    const struct model_matrix *from = s->c;
    size_t end = 2 + INTERACTIONS_OTHERS;

    *out = (struct model_matrix){.n = from->n, .p = 1, .centre = from->centre, .unit = from->unit};
    out->groups = mem_zero(end + 1, sizeof *out->groups);
    out->y = mem_zero(from->n, sizeof *out->y);
    memcpy(out->y, from->y, from->n * sizeof *out->y);
    copy_group(from, pair->a, out);
    copy_group(from, pair->b, out);
    for (size_t i = 0; i < s->r->count && out->group_count < end; i++)
        if (s->r->items[i].column != pair->a && s->r->items[i].column != pair->b)
            copy_group(from, s->r->items[i].column, out);
    add_group(out, NO_COLUMN, 1, 1 / (MODEL_MATRIX_TAU * MODEL_MATRIX_TAU));
    model_matrix_set_lambda(out);
    copy_rows(from, out);
}

/* `prior`: of the product, given that both singles are in. */
static double pair_prior(uint64_t groups, size_t group_count, const void *prior)
{
    uint64_t product = (uint64_t)1 << (group_count - 1), both = 1 << A | 1 << B;
    bool in = groups & product;
    double singles = model_average_prior_by_size(groups & ~product, group_count - 1, NULL);

    if ((groups & both) != both)
        return in ? -INFINITY : singles;
    return singles + log(in ? *(const double *)prior : 1 - *(const double *)prior);
}

/* Mean of a column's coefficient over the subsets that hold the product, result's unit. */
static double given_product(const struct model_matrix *c, const struct model_average *a,
                            size_t column)
{
    double sum = 0, weights = 0;

    for (size_t i = 0; i < a->count; i++) {
        const struct subset *s = &a->subsets[i];

        if (!(s->groups >> (c->group_count - 1) & 1) || !(s->weight > 0))
            continue;
        weights += s->weight;
        sum += s->weight * s->gamma[column] / s->h;
    }
    return weights > 0 ? c->unit * (sum / weights) : NAN;
}

static void read_pair(const struct model_matrix *c, const struct model_average *average,
                      struct interaction *pair)
{
    const double direction = 1;
    size_t product = c->group_count - 1;
    double a = given_product(c, average, c->groups[A].first);
    double b = given_product(c, average, c->groups[B].first);
    struct effect_range range = {NAN, NAN};

    pair->chance = average->chance[product];
    pair->effect = given_product(c, average, c->groups[product].first);
    pair->a_at_low = a - pair->effect / 2;
    pair->a_at_high = a + pair->effect / 2;
    pair->b_at_low = b - pair->effect / 2;
    pair->b_at_high = b + pair->effect / 2;
    if (sureness_of(pair->chance) >= SURE_HINT)
        effect_range_make(c, average, product, &direction, &range);
    pair->low = c->unit * range.low;
    pair->high = c->unit * range.high;
}

static int judge_pair(const struct screen *s, double prior, struct interaction *pair,
                      struct error *e)
{
    struct model_average_options options = {.log_prior = pair_prior, .prior_user = &prior};
    struct model_average average;
    struct model_matrix c;
    int rc;

    pair_matrix_make(s, pair, &c);
    if (c.n <= COLLAPSE_UP_TO) {
        struct model_matrix rows = c;

        collapse_rows(&rows, &c);
        model_matrix_free(&rows);
    }
    rc = model_average_make(&c, &options, &average, e);
    if (rc == 0) {
        read_pair(&c, &average, pair);
        model_average_free(&average);
    }
    model_matrix_free(&c);
    return rc;
}

static int by_chance(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;

    if (x->pair.chance != y->pair.chance)
        return ORDER(y->pair.chance, x->pair.chance);
    return x->pair.a != y->pair.a ? ORDER(x->pair.a, y->pair.a) : ORDER(x->pair.b, y->pair.b);
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
        for (size_t b = a + 1; b < s->c->group_count; b++) {
            entries[count] = (struct entry){.a = a, .b = b, .place = s->c->p + count};
            count += take_pair(s, a, b, &entries[count].pair);
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
