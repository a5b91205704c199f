#include "scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const size_t scene_sizes[SCENE_SIZES] = {6, 8, 12, 16, 24};
const char *const scene_kinds[SCENE_KINDS] = {"balanced", "unbalanced", "tied together",
                                              "one at a time"};
const double scene_scatters[SCENE_SCATTERS] = {10, 18, 25};
const double scene_held[SCENE_HELD] = {0, 0.3, 0.6};

static const double stops[] = {90, 135, 180};
static const double sizes[] = {45, 30}; /* of the drivers, degrees */

#define LEVEL_WITHOUT_STOP 90.0 /* degrees; nothing is held there */
#define FLIPS 0.12
#define SECOND_FLIP 0.25

enum shape { TWO_LEVELS, NUMBER, CATEGORY };

/* The variables of all coupons: 0 … 1 for numbers and two-level ones, 0, 1, 2 for categories. */
struct plan {
    size_t n, k;
    enum shape shape[SCENE_VARIABLES];
    double x[SCENE_COUPONS][SCENE_VARIABLES];
};

static bool lucky(struct random *r, double chance)
{
    return random_uniform(r) < chance;
}

/*
 * Columns of two-level orthogonal sets: for 8 and 16 coupons the products of the binary digits of
 * the run; for 12 the cyclic set of R. L. Plackett and J. P. Burman (Biometrika 33:305, 1946), for
 * 24 the same welded twice. For 6 coupons, where there is none, six runs of the 8.
 */
static bool orthogonal(size_t n, size_t run, size_t column)
{
    static const int first[11] = {1, 1, 0, 1, 1, 1, 0, 0, 0, 1, 0};
    size_t digits = run & (column + 1);

    if (n == 12)
        return run < 11 && first[(column + 11 - run) % 11];
    return __builtin_popcountll(digits) % 2 == 1;
}

static void balanced(struct plan *p, struct random *r)
{
    size_t runs[SCENE_COUPONS], columns[15], base = p->n == 6 ? 8 : p->n == 24 ? 12 : p->n;

    for (size_t i = 0; i < SCENE_COUPONS; i++)
        runs[i] = i;
    for (size_t j = 0; j < base - 1; j++)
        columns[j] = j;
    random_shuffle(r, runs, p->n == 6 ? base : p->n);
    random_shuffle(r, columns, base - 1);
    for (size_t j = 0; j < p->k; j++) {
        bool turned = lucky(r, 0.5);

        p->shape[j] = TWO_LEVELS;
        for (size_t i = 0; i < p->n; i++)
            p->x[i][j] = orthogonal(base, runs[i] % base, columns[j]) != turned;
    }
}

static bool changes(const struct plan *p, size_t j)
{
    for (size_t i = 1; i < p->n; i++)
        if (p->x[i][j] != p->x[0][j])
            return true;
    return false;
}

static void draw_column(struct plan *p, size_t j, struct random *r)
{
    double high = 0.25 + 0.25 * random_uniform(r);

    do
        for (size_t i = 0; i < p->n; i++)
            p->x[i][j] = p->shape[j] == NUMBER     ? random_uniform(r)
                         : p->shape[j] == CATEGORY ? (double)random_below(r, SCENE_LEVELS)
                                                   : lucky(r, high);
    while (!changes(p, j));
}

/* In half the trials the last variable is a number, in half of those that are large enough the one
 * before it a category. `pairs`: variables at the front that must stay two-level. */
static void draw_shapes(struct plan *p, size_t pairs, struct random *r)
{
    bool number = lucky(r, 0.5), category = number && p->k >= 4 && p->n >= 8 && lucky(r, 0.5);

    for (size_t j = 0; j < p->k; j++)
        p->shape[j] = TWO_LEVELS;
    if (number && p->k > pairs)
        p->shape[p->k - 1] = NUMBER;
    if (category && p->k > pairs + 1)
        p->shape[p->k - 2] = CATEGORY;
}

static void unbalanced(struct plan *p, struct random *r)
{
    draw_shapes(p, 0, r);
    for (size_t j = 0; j < p->k; j++)
        draw_column(p, j, r);
}

static void copy_with_flips(struct plan *p, size_t to, size_t from, struct random *r)
{
    size_t flips = 0;

    for (size_t i = 0; i < p->n; i++) {
        bool flip = lucky(r, FLIPS);

        p->x[i][to] = (p->x[i][from] != 0) != flip;
        flips += flip;
    }
    if (flips == 0) {
        size_t i = random_below(r, p->n);

        p->x[i][to] = !(p->x[i][to] != 0);
    }
}

static void tied_together(struct plan *p, struct random *r)
{
    draw_shapes(p, p->k >= 4 ? 4 : 2, r);
    for (size_t j = 0; j < p->k; j++)
        draw_column(p, j, r);
    do
        copy_with_flips(p, 1, 0, r);
    while (!changes(p, 1));
    while (p->k >= 4) {
        copy_with_flips(p, 3, 2, r);
        if (changes(p, 3))
            break;
    }
}

static void one_at_a_time(struct plan *p, struct random *r)
{
    size_t turns[SCENE_VARIABLES];

    memset(p->x, 0, sizeof p->x);
    for (size_t j = 0; j < p->k; j++) {
        p->shape[j] = TWO_LEVELS;
        turns[j] = j;
    }
    for (size_t i = 1; i < p->n; i++) {
        if ((i - 1) % p->k == 0)
            random_shuffle(r, turns, p->k);
        p->x[i][turns[(i - 1) % p->k]] = 1;
        if (lucky(r, SECOND_FLIP))
            p->x[i][turns[(i - 1 + 1 + random_below(r, p->k - 1)) % p->k]] = 1;
    }
}

static void (*const plans[SCENE_KINDS])(struct plan *p, struct random *r) = {
    balanced, unbalanced, tied_together, one_at_a_time};

/* A category's levels in a random direction, the largest difference being `size`. */
static void draw_levels(double *level, double size, struct random *r)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t l = 0; l < SCENE_LEVELS; l++) {
        level[l] = random_normal(r);
        low = fmin(low, level[l]);
        high = fmax(high, level[l]);
    }
    for (size_t l = 0; l < SCENE_LEVELS; l++)
        level[l] *= size / (high - low);
}

static void draw_effects(const struct plan *p, struct scene *s, struct random *r)
{
    size_t order[SCENE_VARIABLES];

    for (size_t j = 0; j < p->k; j++)
        order[j] = j;
    random_shuffle(r, order, p->k);
    s->main = order[0];
    for (size_t d = 0; d < s->drivers; d++) {
        size_t j = order[d];

        s->effect[j] = lucky(r, 0.5) ? sizes[d] : -sizes[d];
        if (p->shape[j] == CATEGORY)
            draw_levels(s->level[j], sizes[d], r);
    }
}

/* What the variables of one coupon add to the result. A number's effect is over its tested range.
 */
static double added(const struct plan *p, const struct scene *s, size_t i)
{
    double sum = 0;

    for (size_t j = 0; j < p->k; j++) {
        double low = INFINITY, high = -INFINITY;

        for (size_t c = 0; c < p->n; c++) {
            low = fmin(low, p->x[c][j]);
            high = fmax(high, p->x[c][j]);
        }
        sum += p->shape[j] == CATEGORY ? s->level[j][(size_t)p->x[i][j]]
                                       : s->effect[j] * (p->x[i][j] - low) / (high - low);
    }
    return sum;
}

/* The level at which the share wanted is expected to reach the stop, by bisection. */
static double find_level(const double *add, size_t n, double scatter, double stop, double held)
{
    double low = stop - 400, high = stop + 400;

    for (int step = 0; step < 60; step++) {
        double level = (low + high) / 2, share = 0;

        for (size_t i = 0; i < n; i++)
            share += 0.5 * erfc((stop - level - add[i]) / scatter * M_SQRT1_2) / (double)n;
        if (share < held)
            low = level;
        else
            high = level;
    }
    return (low + high) / 2;
}

static void make_frame(const struct plan *p, struct frame *f)
{
    char key[24];

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < p->k; j++) {
        snprintf(key, sizeof key, "v%zu", j);
        frame_add_column(f, key, key, "", p->shape[j] == CATEGORY);
    }
}

static void add_coupon(const struct plan *p, size_t i, double result, double stop, struct scene *s)
{
    static const char *const levels[SCENE_LEVELS] = {"a", "b", "c"};
    bool held = result >= stop;
    size_t row =
        frame_add_row(&s->f, "c", held ? measure_at_least(stop) : measure_exact(fmax(0, result)));

    s->broke += !held;
    for (size_t j = 0; j < p->k; j++)
        if (p->shape[j] == CATEGORY)
            frame_set_level(&s->f, row, j, levels[(size_t)p->x[i][j]]);
        else
            frame_set_number(&s->f, row, j, p->x[i][j]);
}

static void weld(const struct plan *p, struct scene *s, struct random *r)
{
    double add[SCENE_COUPONS], scatter = scene_scatters[s->scatter], held = scene_held[s->held];
    double stop = held > 0 ? stops[random_below(r, 3)] : INFINITY, level;

    for (size_t i = 0; i < p->n; i++)
        add[i] = added(p, s, i);
    level = held > 0 ? find_level(add, p->n, scatter, stop, held) : LEVEL_WITHOUT_STOP;
    make_frame(p, &s->f);
    for (size_t i = 0; i < p->n; i++)
        add_coupon(p, i, level + add[i] + scatter * random_normal(r), stop, s);
}

/* Levels that no coupon had drop out, so that the rest must be found by their names "a", "b", "c".
 */
static void sort_levels(struct scene *s)
{
    frame_sort_levels(&s->f);
    for (size_t j = 0; j < s->k; j++)
        for (size_t l = 0; l < s->f.columns[j].level_count; l++)
            s->level[j][l] = s->level[j][s->f.columns[j].levels[l][0] - 'a'];
}

void scene_make(size_t cell, struct random *r, struct scene *out)
{
    struct plan p = {0};

    *out = (struct scene){.size = cell % SCENE_SIZES};
    out->kind = cell / SCENE_SIZES % SCENE_KINDS;
    out->drivers = cell / (SCENE_SIZES * SCENE_KINDS) % SCENE_DRIVERS;
    out->scatter = cell / (SCENE_SIZES * SCENE_KINDS * SCENE_DRIVERS) % SCENE_SCATTERS;
    out->held = cell / (SCENE_SIZES * SCENE_KINDS * SCENE_DRIVERS * SCENE_SCATTERS);
    p.n = scene_sizes[out->size];
    p.k = out->k = 3 + random_below(r, p.n == 6 ? 2 : 4);
    plans[out->kind](&p, r);
    draw_effects(&p, out, r);
    weld(&p, out, r);
    sort_levels(out);
}

void scene_free(struct scene *s)
{
    frame_free(&s->f);
}
