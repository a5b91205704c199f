/*
 * Four two-level variables and seven coupons: the second variable copies the first, but for one
 * coupon in half the trials. One of the two is the driver, 45 degrees; one of the others adds 30 in
 * half the trials. Scatter 18; none, 30 or 60 % held. The results of the further coupons are drawn
 * before they are chosen, so that every way of choosing meets the same luck.
 */
#include "further.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "stats/design/plans.h"
#include "stats/rank/ranking.h"

enum { VARIABLES = 4, WELDED = 7, MOST = WELDED + FURTHER_STEPS };

#define SCATTER 18.0

/* The world of one trial. */
struct world {
    double x[MOST][VARIABLES], luck[MOST];
    double effect[VARIABLES], level, stop;
    size_t driver;
};

const char *const further_ways[FURTHER_WAYS] = {"as the program says", "a random set-up",
                                                "one change from the first coupon",
                                                "the best set-up so far again"};

static double mean_of(const struct world *w, const double *x)
{
    double sum = w->level;

    for (size_t j = 0; j < VARIABLES; j++)
        sum += w->effect[j] * (x[j] - 0.5);
    return sum;
}

static void draw_world(size_t number, struct random *r, struct world *w)
{
    static const double normal_point[3] = {INFINITY, 0.5244, -0.2533}; /* 0, 30, 60 % above */
    bool flip = number % 2;

    *w = (struct world){.level = 90, .driver = random_below(r, 2)};
    w->effect[w->driver] = random_below(r, 2) ? 45 : -45;
    if (number / 2 % 2)
        w->effect[2 + random_below(r, 2)] = random_below(r, 2) ? 30 : -30;
    w->stop = 90 + normal_point[number / 4 % 3] * hypot(SCATTER, 22.5);
    for (size_t i = 0; i < MOST; i++)
        w->luck[i] = SCATTER * random_normal(r);
    for (size_t i = 0; i < WELDED; i++)
        for (size_t j = 0; j < VARIABLES; j++)
            w->x[i][j] = (double)random_below(r, 2);
    for (size_t j = 0; j < VARIABLES; j++) { /* every variable changes */
        w->x[0][j] = 0;
        w->x[1][j] = 1;
    }
    for (size_t i = 0; i < WELDED; i++)
        w->x[i][1] = w->x[i][0];
    if (flip)
        w->x[2][1] = 1 - w->x[2][0];
}

static void weld(const struct world *w, size_t at, const double *x, struct frame *f)
{
    double angle = fmax(0, mean_of(w, x) + w->luck[at]);

    frame_add_row(f, "c", angle >= w->stop ? measure_at_least(w->stop) : measure_exact(angle));
    for (size_t j = 0; j < VARIABLES; j++)
        frame_set_number(f, at, j, x[j]);
}

/* Credit for the driver's place among chances; those that cannot be told apart share it. */
static double credit(const struct ranking *r, size_t driver)
{
    double mine = 0, above = 0, equal = 0;

    for (size_t i = 0; i < r->count; i++)
        mine = r->items[i].column == driver ? r->items[i].chance : mine;
    for (size_t i = 0; i < r->count; i++) {
        above += r->items[i].chance > mine + 1e-9;
        equal += fabs(r->items[i].chance - mine) <= 1e-9;
    }
    return above > 0 ? 0 : 1 / equal;
}

static void by_program(const struct frame *f, const struct ranking *r, struct random *random,
                       double *x)
{
    double chance[VARIABLES] = {NAN, NAN, NAN, NAN};
    struct design_request request = {.chance = chance, .stop = NAN, .count = 1, .seed = 1};
    struct design d;

    (void)random;
    for (size_t i = 0; i < r->count; i++)
        chance[r->items[i].column] = r->items[i].chance;
    if (design_next(f, &request, &d, NULL) == 0) {
        memcpy(x, d.coupons[0].values, VARIABLES * sizeof *x);
        design_free(&d);
    }
}

static void at_random(const struct frame *f, const struct ranking *r, struct random *random,
                      double *x)
{
    (void)f, (void)r;
    for (size_t j = 0; j < VARIABLES; j++)
        x[j] = (double)random_below(random, 2);
}

static void one_change(const struct frame *f, const struct ranking *r, struct random *random,
                       double *x)
{
    size_t changed = random_below(random, VARIABLES);

    (void)r;
    for (size_t j = 0; j < VARIABLES; j++)
        x[j] = f->columns[j].x[0];
    x[changed] = 1 - x[changed];
}

static void best_again(const struct frame *f, const struct ranking *r, struct random *random,
                       double *x)
{
    size_t best = 0;

    (void)r, (void)random;
    for (size_t i = 1; i < f->n; i++)
        best = measure_point(f->y[i]) > measure_point(f->y[best]) ? i : best;
    for (size_t j = 0; j < VARIABLES; j++)
        x[j] = f->columns[j].x[best];
}

static void (*const choose[FURTHER_WAYS])(const struct frame *f, const struct ranking *r,
                                          struct random *random, double *x) = {
    by_program, at_random, one_change, best_again};

/* Goes one way as far as it goes; false when the trial cannot be ranked to begin with. */
static bool go(const struct world *w, size_t way, struct random random, double *right)
{
    struct ranking_options options = ranking_usual();
    struct ranking r;
    struct frame f;
    bool good = false;

    options.intervals = false;
    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < VARIABLES; j++)
        frame_add_column(&f, "v", "v", "", false);
    for (size_t i = 0; i < WELDED; i++)
        weld(w, i, w->x[i], &f);
    for (size_t step = 0; step <= FURTHER_STEPS; step++) {
        double x[VARIABLES] = {0};

        if (ranking_make(&f, &options, &r, NULL) != 0)
            break;
        good = true;
        right[step] = credit(&r, w->driver);
        if (step < FURTHER_STEPS) {
            choose[way](&f, &r, &random, x);
            weld(w, WELDED + step, x, &f);
        }
        ranking_free(&r);
    }
    frame_free(&f);
    return good;
}

void further_trial(size_t number, struct random *r, struct tally *t)
{
    double right[FURTHER_WAYS][FURTHER_STEPS + 1] = {{0}};
    struct world w;

    draw_world(number, r, &w);
    for (size_t way = 0; way < FURTHER_WAYS; way++)
        if (!go(&w, way, random_seeded(random_bits(r)), right[way]))
            return;
    t->further++;
    for (size_t way = 0; way < FURTHER_WAYS; way++)
        for (size_t step = 0; step <= FURTHER_STEPS; step++)
            t->further_right[way][step] += right[way][step];
}
