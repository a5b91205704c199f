/*
 * Effects, predictions and chances where there is a closed form: with one subset and exact results
 * Laplace's approximation in (γ, log h) is exact up to a constant, so that an effect follows
 * Student's t with n + ca degrees of freedom about Σxy/(Σx² + λ).
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "stats/fit/effect.h"
#include "stats/fit/predict.h"
#include "stats/fit/prob_largest.h"
#include "stats/num/guard.h"
#include "table.h"

/* Every variable is in, or none is. */
static double all_in(uint64_t groups, size_t group_count, const void *unused)
{
    (void)unused;
    return groups + 1 == (uint64_t)1 << group_count ? 0 : -INFINITY;
}

static double none_in(uint64_t groups, size_t group_count, const void *unused)
{
    (void)group_count;
    (void)unused;
    return groups == 0 ? 0 : -INFINITY;
}

static const struct model_average_options all = {.log_prior = all_in},
                                          none = {.log_prior = none_in};

static void average(const char *table, const struct model_average_options *options,
                    struct model_matrix *c, struct model_average *a)
{
    struct frame f;
    struct error e = {0};

    table_to_frame(table, 180, &f);
    ck_assert_msg(model_matrix_make(&f, c, NULL, &e) == 0, "%s", e.text);
    ck_assert_msg(model_average_make(c, options, a, &e) == 0, "%s", e.text);
    frame_free(&f);
}

static void release(struct model_matrix *c, struct model_average *a)
{
    model_average_free(a);
    model_matrix_free(c);
}

static void check_range(const struct effect_range *r, double middle, double reach)
{
    ck_assert_double_eq_tol(r->low, middle - reach, 2e-3 * reach);
    ck_assert_double_eq_tol(r->high, middle + reach, 2e-3 * reach);
}

#define EIGHT "a,y\n0,52\n0,44\n0,50\n0,38\n1,81\n1,90\n1,77\n1,88\n"

/* x = ±½: Σx² = 2, λ = ¼; in units of 30: Σxy = 76/30, squares about the mean 3118/900. */
START_TEST(one_effect_alone_is_students_t)
{
    static const double along[] = {1}, against[] = {-1};
    const double t95 = 1.83311293265624; /* R: qt(.95, 9) */
    double middle = 76 / 30.0 / 2.25, least = 3118 / 900.0 + 0.5 - 2.25 * middle * middle;
    struct model_matrix c;
    struct model_average a;
    struct effect_range r;

    average(EIGHT, &all, &c, &a);
    effect_range_make(&c, &a, 0, along, &r);
    check_range(&r, middle, t95 * sqrt(least / 2.25 / 9));
    effect_range_make(&c, &a, 0, against, &r);
    check_range(&r, -middle, t95 * sqrt(least / 2.25 / 9));
    ck_assert_double_eq_tol(a.beta[1], middle, 1e-9);
    release(&c, &a);
}
END_TEST

/* Three levels with three coupons each: the Helmert columns have length √3, λ is ½, and a
 * difference of two levels has the squared length 2. Sums by level 150, 180, 270; mean 600/9. */
START_TEST(a_difference_of_levels_is_students_t)
{
    static const double sums[] = {150, 180, 270};
    const double t95 = 1.81246112281168; /* R: qt(.95, 10) */
    double squares = 0, least = 0.5, shrunk = 3 / 3.5;
    struct model_matrix c;
    struct model_average a;

    average("a,y\nk,46\nl,55\nm,97\nk,50\nl,60\nm,83\nk,54\nl,65\nm,90\n", &all, &c, &a);
    for (size_t l = 0; l < 3; l++)
        squares += pow(sums[l] / 3 - 600 / 9.0, 2);
    /* within levels 32 + 50 + 98; between them 3 × squares, of which the prior leaves 1 − shrunk */
    least += (180 + 3 * squares * (1 - shrunk)) / 900;
    for (size_t from = 0; from < 3; from++)
        for (size_t to = 0; to < 3; to++) {
            double direction[2];
            struct effect_range r;

            effect_direction(&c.groups[0], from, to, direction);
            if (from == to) {
                ck_assert(direction[0] == 0 && direction[1] == 0);
                continue;
            }
            effect_range_make(&c, &a, 0, direction, &r);
            check_range(&r, shrunk * (sums[to] - sums[from]) / 90,
                        t95 * sqrt(2 * least / 3.5 / 10));
        }
    release(&c, &a);
}
END_TEST

START_TEST(a_variable_in_no_subset_has_no_range)
{
    static const double along[] = {1};
    struct model_matrix c;
    struct model_average a;
    struct effect_range r = {0, 0};
    double chance[1] = {9};

    average(EIGHT, &none, &c, &a);
    effect_range_make(&c, &a, 0, along, &r);
    ck_assert(isnan(r.low) && isnan(r.high));
    ck_assert_double_eq(a.chance[0], 0);
    ck_assert_double_eq(a.beta[1], 0);
    prob_largest(&c, &a, 1, chance);
    ck_assert_double_eq(chance[0], 0);
    release(&c, &a);
}
END_TEST

/* A constant alone: h² = (n + ca)/(S + 2 cb), the mean is uncertain by 1/(h √n), Var(log h) =
 * 1/(2 (n + ca)). Mean of the results 65, S = 3118/900. */
START_TEST(one_more_coupon_without_variables)
{
    struct model_matrix c;
    struct model_average a;
    struct predictor p;
    struct prediction next;
    double x[] = {1, 0.5}, scale = sqrt((3118 / 900.0 + 0.5) / 9 * (1 + 1 / 8.0));

    average(EIGHT, &none, &c, &a);
    predictor_make(&c, &a, &p);
    predict(&p, x, &next);
    ck_assert_uint_eq(next.count, 1);
    ck_assert_double_eq(next.parts[0].weight, 1);
    ck_assert_double_eq_tol(next.parts[0].mean, 0, 1e-9);
    ck_assert_double_eq_tol(next.parts[0].scale, scale, 1e-7);
    ck_assert_double_eq_tol(next.parts[0].freedom, 9, 1e-6);
    ck_assert_double_eq_tol(prediction_mean(&next), 65, 1e-6);
    /* R: qt(.95, 9) */
    ck_assert_double_eq_tol(prediction_point(&next, 0.95), 65 + 30 * scale * 1.83311293265624,
                            1e-5);
    ck_assert_double_eq_tol(a.scatter, sqrt((3118 / 900.0 + 0.5) / 9), 1e-7);
    prediction_free(&next);
    predictor_free(&p);
    release(&c, &a);
}
END_TEST

/* Subsets of a thousandth of the heaviest or less are dropped, the others share the whole; the
 * degrees of freedom are 1.5 at least. */
START_TEST(predictions_keep_what_weighs)
{
    struct model_matrix c;
    struct model_average a;
    struct predictor p;

    average(EIGHT, NULL, &c, &a);
    ck_assert_uint_eq(a.count, 2);
    a.subsets[0].weight = 0.25;
    a.subsets[1].weight = 0.5;
    a.subsets[0].log_h_sd = 1;
    a.subsets[1].log_h_sd = 0.1;
    predictor_make(&c, &a, &p);
    ck_assert_uint_eq(p.count, 2);
    ck_assert_double_eq_tol(p.parts[0].weight, 1 / 3.0, 1e-15);
    ck_assert_double_eq_tol(p.parts[1].weight, 2 / 3.0, 1e-15);
    ck_assert_double_eq(p.parts[0].freedom, 1.5);
    ck_assert_double_eq_tol(p.parts[1].freedom, 50, 1e-9);
    ck_assert_uint_eq(p.parts[1].count, 2);
    ck_assert_double_eq_tol(p.parts[1].gamma[1], a.subsets[1].gamma[1], 1e-12);
    predictor_free(&p);
    a.subsets[0].weight = 0.001 * 0.5;
    predictor_make(&c, &a, &p);
    ck_assert_uint_eq(p.count, 1);
    ck_assert_double_eq(p.parts[0].weight, 1);
    predictor_free(&p);
    release(&c, &a);
}
END_TEST

/* With 1 degree of freedom: ½ + arctan(z)/π lies below z, and tan(π (part − ½)) is its point. */
START_TEST(points_of_a_prediction_in_closed_form)
{
    static const double met[] = {50, 90, 110, 120, 130, 150, 190}; /* 120 ± 10, 30, 70 */
    static const double parts[] = {0.001, 0.05, 0.25, 0.4999, 0.5, 0.75, 0.9, 0.999};
    struct prediction_part one = {1, 2, 3, 1}, pair[] = {{0.25, -6, 1, 1}, {0.75, 2, 1, 1}};
    struct prediction p = {&one, 1, 100, 10}, q = {pair, 2, 100, 10};
    double between = 0.25 * (0.5 + atan(6) / M_PI) + 0.75 * (0.5 - atan(2) / M_PI);

    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        double at = 120 + 30 * tan(M_PI * (parts[i] - 0.5));

        ck_assert_double_eq_tol(prediction_below(&p, at), parts[i], 1e-12);
        ck_assert_double_eq_tol(prediction_point(&p, parts[i]), at, 1e-6 * (1 + fabs(at)));
    }
    /* a point the search for an end comes upon is that point */
    for (size_t i = 0; i < sizeof met / sizeof *met; i++)
        ck_assert_double_eq(prediction_point(&p, prediction_below(&p, met[i])), met[i]);
    ck_assert_double_eq_tol(prediction_mean(&q), 100, 1e-12); /* −6/4 + 2 × 3/4 */
    ck_assert_double_eq_tol(prediction_below(&q, 100), between, 1e-12);
    ck_assert_double_eq_tol(prediction_point(&q, between), 100, 1e-6);
}
END_TEST

/* One variable has the largest effect whenever it is in: its weight, to a whole draw. */
START_TEST(a_single_variable_is_largest_when_it_is_in)
{
    struct model_matrix c;
    struct model_average a;
    double chance[1];

    average("a,y\n0,52\n0,74\n0,60\n0,38\n1,71\n1,90\n1,57\n1,68\n", NULL, &c, &a);
    ck_assert(a.chance[0] > 0.2 && a.chance[0] < 0.95);
    prob_largest(&c, &a, 5, chance);
    ck_assert_double_eq_tol(chance[0], a.chance[0], 0.5 / PROB_LARGEST_DRAWS + 1e-12);
    release(&c, &a);
}
END_TEST

/* The levels reach from 40 to 100; the number changes the results by 20 in one trial and by 100 in
 * the other. */
START_TEST(levels_count_from_the_lowest_to_the_highest)
{
    struct model_matrix c;
    struct model_average a;
    double chance[2];

    average("a,t,y\nk,0,40\nk,1,61\nl,0,61\nl,1,80\nm,0,99\nm,1,120\nk,0,41\nm,1,119\n", &all, &c,
            &a);
    prob_largest(&c, &a, 1, chance);
    ck_assert_double_gt(chance[0], 0.95);
    ck_assert_double_eq_tol(chance[0] + chance[1], 1, 1e-12);
    release(&c, &a);
    average("a,t,y\nk,0,40\nk,1,141\nl,0,61\nl,1,160\nm,0,99\nm,1,200\nk,0,41\nm,1,199\n", &all, &c,
            &a);
    prob_largest(&c, &a, 1, chance);
    ck_assert_double_gt(chance[1], 0.9);
    release(&c, &a);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/effect");
    TCase *t = tcase_create("effect");

    guard_start();
    tcase_add_test(t, one_effect_alone_is_students_t);
    tcase_add_test(t, a_difference_of_levels_is_students_t);
    tcase_add_test(t, a_variable_in_no_subset_has_no_range);
    tcase_add_test(t, one_more_coupon_without_variables);
    tcase_add_test(t, predictions_keep_what_weighs);
    tcase_add_test(t, points_of_a_prediction_in_closed_form);
    tcase_add_test(t, a_single_variable_is_largest_when_it_is_in);
    tcase_add_test(t, levels_count_from_the_lowest_to_the_highest);
    suite_add_tcase(s, t);
    return s;
}
