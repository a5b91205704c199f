/* Combined effects: planted ones, aliased ones, ones the data cannot show; and a slow twin. */
#include "run.h"

#include <math.h>
#include <stdio.h>

#include "stats/data/model_matrix.h"
#include "stats/fit/censored.h"
#include "stats/fit/model_average.h"
#include "stats/num/random.h"
#include "stats/rank/interactions.h"
#include "stats/rank/ranking.h"
#include "table.h"

/* Preheat matters on thick plate only: +70 degrees there, nothing on thin. */
static void preheat_on_thick(struct frame *f, size_t n, double together)
{
    struct random random = random_seeded(5);

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    frame_add_column(f, "preheat", "Preheat", "°C", false);
    frame_add_column(f, "thickness", "Thickness", "mm", false);
    frame_add_column(f, "wire", "Wire", "", true);
    for (size_t i = 0; i < n; i++) {
        bool hot = i & 1, thick = i & 2;
        double angle = 60 + (hot && thick ? together : 0) + 10 * random_normal(&random);

        frame_add_row(f, "c", angle >= 135 ? measure_at_least(135) : measure_exact(angle));
        frame_set_number(f, i, 0, hot ? 150 : 20);
        frame_set_number(f, i, 1, thick ? 5 : 3);
        frame_set_level(f, i, 2, random_below(&random, 2) ? "solid" : "cored");
    }
    frame_sort_levels(f);
}

START_TEST(preheat_that_matters_on_thick_plate_only)
{
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;

    preheat_on_thick(&f, 24, 70);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    ck_assert_uint_eq(c.possible, 3);
    ck_assert_uint_eq(c.count, 3);
    ck_assert_uint_eq(c.pairs[0].a, 0);
    ck_assert_uint_eq(c.pairs[0].b, 1);
    ck_assert_double_ge(c.pairs[0].chance, 0.9);
    ck_assert(c.pairs[0].low < 70 && 70 < c.pairs[0].high);
    ck_assert_double_gt(c.pairs[0].low, 0);
    ck_assert_double_lt(fabs(c.pairs[0].a_at_low), 20);
    ck_assert_double_gt(c.pairs[0].a_at_high, 45);
    ck_assert_double_eq_tol(c.pairs[0].a_at_high - c.pairs[0].a_at_low, c.pairs[0].effect, 1e-9);
    for (int i = 0; i < 4; i++)
        ck_assert_uint_eq(c.pairs[0].corners[i], 6);
    ck_assert_double_lt(c.pairs[1].chance, 0.5);
    ck_assert(isnan(c.pairs[1].low));
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

START_TEST(nothing_is_seen_where_nothing_is)
{
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;

    preheat_on_thick(&f, 24, 0);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    for (size_t i = 0; i < c.count; i++)
        ck_assert_double_lt(c.pairs[i].chance, 0.5);
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

/* Four variables in eight coupons, the fourth the product of the other three: every pair's product
 * is another pair's. */
START_TEST(products_that_run_the_same_way_are_said_to)
{
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;

    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    for (int j = 0; j < 4; j++)
        frame_add_column(&f, "v", "v", "", false);
    for (size_t i = 0; i < 16; i++) {
        size_t bits = i % 8, odd = (bits ^ bits >> 1 ^ bits >> 2) & 1;

        frame_add_row(
            &f, "c",
            measure_exact(60 + 50 * (double)(bits == 3 || bits == 7) + 3 * sin((double)i)));
        for (size_t j = 0; j < 3; j++)
            frame_set_number(&f, i, j, (double)(bits >> j & 1));
        frame_set_number(&f, i, 3, (double)odd);
    }
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    ck_assert_uint_eq(c.count, 6);
    for (size_t i = 0, alone = 0; i < 6; i++) {
        alone += c.pairs[i].same_as == INTERACTIONS_ALONE;
        ck_assert(i < 5 || alone == 3);
        if (c.pairs[i].same_as != INTERACTIONS_ALONE) {
            const struct interaction *p = &c.pairs[i], *q = &c.pairs[p->same_as];

            /* The two pairs are all four variables. */
            ck_assert_uint_eq((1u << p->a) + (1u << p->b) + (1u << q->a) + (1u << q->b), 15);
            ck_assert_double_le(p->chance, q->chance + 1e-12);
        }
    }
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

/* A corner without a coupon, and a variable tied to another, are not looked at. */
START_TEST(pairs_the_data_cannot_show_are_left_out)
{
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;

    table_to_frame("a,b,c,y\n0,0,0,40\n0,0,0,44\n1,0,0,61\n1,0,0,66\n0,1,1,90\n0,1,1,97\n0,0,0,45\n"
                   "1,0,0,60\n0,1,1,88\n0,0,0,41\n",
                   180, &f);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    ck_assert_uint_eq(c.possible, 3);
    ck_assert_uint_eq(c.count, 0);
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

/* How many pairs of a table are looked at. */
static size_t pairs_of(const char *table)
{
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;
    size_t count;

    table_to_frame(table, 180, &f);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    count = c.count;
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
    return count;
}

/* Constant, two singles and three coupons more: six are enough for a pair, five are not; a category
 * of three levels is in no pair, whichever place it has. */
START_TEST(pairs_looked_at)
{
    ck_assert_uint_eq(pairs_of("a,b,y\n0,0,40\n0,1,55\n1,0,61\n1,1,90\n0,0,44\n"), 0);
    ck_assert_uint_eq(pairs_of("a,b,y\n0,0,40\n0,1,55\n1,0,61\n1,1,90\n0,0,44\n1,1,85\n"), 1);
    ck_assert_uint_eq(pairs_of("a,b,y\nk,0,40\nl,1,55\nm,0,61\nk,1,90\nl,0,44\nm,1,85\nk,0,41\n"
                               "l,1,58\nm,0,60\nk,1,92\n"),
                      0);
    ck_assert_uint_eq(pairs_of("a,b,y\n0,k,40\n1,l,55\n0,m,61\n1,k,90\n0,l,44\n1,m,85\n0,k,41\n"
                               "1,l,58\n0,m,60\n1,k,92\n"),
                      0);
}
END_TEST

/* c is the product of a and b, and so each the product of the other two. */
START_TEST(products_that_are_variables_themselves)
{
    ck_assert_uint_eq(
        pairs_of("a,b,c,y\n0,0,1,40\n0,1,0,55\n1,0,0,61\n1,1,1,90\n0,0,1,44\n1,1,1,85\n"
                 "1,0,0,65\n0,0,1,43\n"),
        0);
}
END_TEST

/* A value in the middle between the ends counts with the low ones. */
START_TEST(the_middle_counts_as_low)
{
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;

    table_to_frame("a,b,y\n0,0,40\n0,2,55\n2,0,61\n2,2,90\n1,2,70\n2,1,75\n2,2,88\n", 180, &f);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    ck_assert_uint_eq(c.count, 1);
    ck_assert_uint_eq(c.pairs[0].corners[0], 1);
    ck_assert_uint_eq(c.pairs[0].corners[1], 2);
    ck_assert_uint_eq(c.pairs[0].corners[2], 2);
    ck_assert_uint_eq(c.pairs[0].corners[3], 2);
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

static double evidence(const struct censored_data *d, const size_t *columns, size_t count)
{
    static const double lambda[4] = {0, 0.25, 0.25, 0.25};
    struct censored_model model = {.columns = columns, .count = count};
    struct censored_fit fit = {0};
    double result;

    ck_assert_int_eq(censored_fit(d, &(struct censored_prior){lambda, CENSORED_CA, CENSORED_CB},
                                  &model, false, &fit),
                     0);
    result = fit.log_evidence;
    censored_fit_free(&fit);
    return result;
}

/* Two variables only: the five models written out. Prior by size over two variables, 1/3, 1/6, 1/6,
 * 1/3; the last parted between without and with the product by INTERACTIONS_PRIOR. */
START_TEST(the_chance_is_that_of_five_models_written_out)
{
    static const size_t sets[5][4] = {{0}, {0, 1}, {0, 2}, {0, 1, 2}, {0, 1, 2, 3}};
    static const size_t sizes[5] = {1, 2, 2, 3, 4};
    static const double priors[5] = {1.0 / 3, 1.0 / 6, 1.0 / 6, (1 - INTERACTIONS_PRIOR) / 3,
                                     INTERACTIONS_PRIOR / 3};
    struct random random = random_seeded(9);
    int hints = 0;

    for (int t = 0; t < 20; t++) {
        struct model_matrix four = {.n = 14, .p = 4, .unit = 30};
        struct observation y[14];
        struct censored_data data;
        struct interactions c;
        struct ranking r;
        struct frame f;
        struct error e;
        double x[14 * 4], sum = 0, all[5];

        frame_init(&f, "bend_angle", "Bend angle", "°", 180);
        frame_add_column(&f, "a", "a", "", false);
        frame_add_column(&f, "b", "b", "", false);
        four.x = x;
        four.y = y;
        for (size_t i = 0; i < 14; i++) {
            double a = (double)(i & 1), b = (double)(i >> 1 & 1);
            double angle = 80 + 40 * a * b * (t % 3) + 20 * random_normal(&random);
            struct measure m = angle > 140 ? measure_at_least(140) : measure_exact(angle);

            frame_add_row(&f, "c", m);
            frame_set_number(&f, i, 0, a);
            frame_set_number(&f, i, 1, b);
            x[4 * i] = 1;
            x[4 * i + 1] = a - 0.5;
            x[4 * i + 2] = b - 0.5;
            x[4 * i + 3] = (a - 0.5) * (b - 0.5);
            y[i] = (struct observation){m.kind, (m.low - 80) / 30, (m.high - 80) / 30, 1};
        }
        censored_data_make(&four, &data);
        for (int i = 0; i < 5; i++) {
            all[i] = exp(evidence(&data, sets[i], sizes[i])) * priors[i];
            sum += all[i];
        }
        ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
        ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
        ck_assert_uint_eq(c.count, 1);
        ck_assert_double_eq_tol(c.pairs[0].chance, all[4] / sum, 1e-6);
        /* an interval from a hint on */
        ck_assert_int_eq(isnan(c.pairs[0].low), c.pairs[0].chance < 0.5);
        hints += c.pairs[0].chance >= 0.5 && c.pairs[0].chance < 0.75;
        interactions_free(&c);
        censored_data_free(&data);
        ranking_free(&r);
        frame_free(&f);
    }
    ck_assert_int_gt(hints, 0);
}
END_TEST

/*
 * Sixteen subsets of four columns written out in GNU R (fits by optim(), the prior by heredity and
 * INTERACTIONS_PRIOR shared between three pairs); the interval by fixing the coefficient at 301
 * places.
 */
START_TEST(three_pairs_as_in_r)
{
    static const struct {
        size_t a, b;
        double chance, effect, a_at_low, a_at_high, b_at_low, b_at_high;
    } pairs[] = {
        {0, 1, 0.9746291059, 52.98461, 7.344378, 60.32898, 3.036815, 56.02142},
        {0, 2, 0.1511842053, 22.2569, 23.18349, 45.44039, -8.064566, 14.19233},
        {1, 2, 0.0877562749, 4.288531, 27.36269, 31.65122, 0.2515813, 4.540112},
    };
    static const size_t corners[3][4] = {{3, 3, 3, 3}, {3, 3, 3, 3}, {4, 2, 2, 4}};
    struct interactions c;
    struct ranking r;
    struct frame f;
    struct error e;

    table_to_frame("mark,preheat,thickness,gas,result\n1,20,3,CO2,62\n2,120,3,CO2,66\n"
                   "3,20,5,CO2,57\n4,120,5,CO2,131\n5,20,3,mix,58\n6,120,3,mix,69\n7,20,5,mix,64\n"
                   "8,120,5,mix,135+\n9,20,3,CO2,71\n10,120,5,mix,124\n11,20,5,mix,61\n"
                   "12,120,3,CO2,60\n",
                   180, &f);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(interactions_screen(&r, &c, &e), 0);
    ck_assert_uint_eq(c.possible, 3);
    ck_assert_uint_eq(c.count, 3);
    for (size_t i = 0; i < 3; i++) {
        const struct interaction *p = &c.pairs[i];

        ck_assert_uint_eq(p->a, pairs[i].a);
        ck_assert_uint_eq(p->b, pairs[i].b);
        ck_assert_double_eq_tol(p->chance, pairs[i].chance, 1e-6);
        ck_assert_double_eq_tol(p->effect, pairs[i].effect, 1e-4);
        ck_assert_double_eq_tol(p->a_at_low, pairs[i].a_at_low, 1e-4);
        ck_assert_double_eq_tol(p->a_at_high, pairs[i].a_at_high, 1e-4);
        ck_assert_double_eq_tol(p->b_at_low, pairs[i].b_at_low, 1e-4);
        ck_assert_double_eq_tol(p->b_at_high, pairs[i].b_at_high, 1e-4);
        ck_assert_uint_eq(p->same_as, INTERACTIONS_ALONE);
        for (int j = 0; j < 4; j++)
            ck_assert_uint_eq(p->corners[j], corners[i][j]);
    }
    ck_assert_double_eq_tol(c.pairs[0].low, 29.4552, 0.1);
    ck_assert_double_eq_tol(c.pairs[0].high, 77.6482, 0.1);
    ck_assert(isnan(c.pairs[1].low) && isnan(c.pairs[1].high));
    interactions_free(&c);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/interactions");
    TCase *t = tcase_create("combined");

    tcase_add_test(t, preheat_that_matters_on_thick_plate_only);
    tcase_add_test(t, nothing_is_seen_where_nothing_is);
    tcase_add_test(t, products_that_run_the_same_way_are_said_to);
    tcase_add_test(t, pairs_the_data_cannot_show_are_left_out);
    tcase_add_test(t, the_chance_is_that_of_five_models_written_out);
    tcase_add_test(t, three_pairs_as_in_r);
    tcase_add_test(t, pairs_looked_at);
    tcase_add_test(t, products_that_are_variables_themselves);
    tcase_add_test(t, the_middle_counts_as_low);
    suite_add_tcase(s, t);
    return s;
}
