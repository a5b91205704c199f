/*
 * Three to five two-level variables, each coupon's levels drawn evenly; 8, 12, 16 or 24 coupons;
 * scatter 15 degrees, a stop at 120. In half the trials the first two variables add 60 or 30
 * degrees, but only together; in half of all trials the third adds 30 of its own.
 */
#include "pairs.h"

#include <stdbool.h>
#include <stdio.h>

#include "stats/rank/interactions.h"

enum { SIZES = PAIRS_SIZES, MOST_VARIABLES = 5 };

static const size_t sizes[SIZES] = {8, 12, 16, 24};
static const double together[4] = {60, 30, 0, 0};

static void weld(struct frame *f, size_t n, size_t k, double effect, double third, struct random *r)
{
    double x[MOST_VARIABLES];

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < k; j++)
        frame_add_column(f, "v", "v", "", false);
    for (size_t i = 0; i < n; i++) {
        double angle;
        size_t row;

        for (size_t j = 0; j < k; j++)
            x[j] = (double)random_below(r, 2);
        angle = 60 + effect * x[0] * x[1] + third * x[2] + 15 * random_normal(r);
        row = frame_add_row(f, "c", angle >= 120 ? measure_at_least(120) : measure_exact(angle));
        for (size_t j = 0; j < k; j++)
            frame_set_number(f, row, j, x[j]);
    }
}

static void count(const struct interactions *c, double effect, size_t size, struct tally *t)
{
    for (size_t i = 0; i < c->count; i++) {
        bool real = effect > 0 && c->pairs[i].a == 0 && c->pairs[i].b == 1;
        enum sureness word = sureness_of(c->pairs[i].chance);

        t->pair_word[word]++;
        t->pair_word_true[word] += real;
        if (real && effect == together[0]) {
            t->pair_real[size]++;
            t->pair_seen[size] += word >= SURE_LIKELY;
        }
    }
}

void pairs_trial(size_t number, struct random *r, struct tally *t)
{
    struct ranking_options options = ranking_usual();
    double effect = together[number / SIZES % 4], third = number / (4 * SIZES) % 2 ? 30 : 0;
    size_t size = number % SIZES, k = 3 + random_below(r, 3);
    struct interactions c;
    struct ranking ranking;
    struct frame f;

    options.intervals = false;
    weld(&f, sizes[size], k, effect, third, r);
    if (ranking_make(&f, &options, &ranking, NULL) == 0) {
        if (interactions_screen(&ranking, &c, NULL) == 0) {
            count(&c, effect, size, t);
            interactions_free(&c);
        }
        ranking_free(&ranking);
    }
    frame_free(&f);
}
