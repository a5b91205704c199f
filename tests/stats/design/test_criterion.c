/* What a coupon is worth and what is said of it, worked out by hand. */
#include "run.h"

#include <math.h>

#include "stats/design/explain.h"
#include "trials.h"

/* Of a normal result about its mean, cut off at z: Φ(z) − z φ(z) + φ(z)²/(1 − Φ(z)), relative to a
 * break. */
START_TEST(information_of_a_coupon_that_may_be_held)
{
    ck_assert_double_eq_tol(criterion_information(-2), 0.1337149505, 1e-9);
    ck_assert_double_eq_tol(criterion_information(-1), 0.4702167518, 1e-9);
    ck_assert_double_eq_tol(criterion_information(0), 0.8183098862, 1e-9);
    ck_assert_double_eq_tol(criterion_information(1), 0.9684121093, 1e-9);
    ck_assert_double_eq_tol(criterion_information(2), 0.9974001354, 1e-9);
    ck_assert_double_eq_tol(criterion_information(50), 1, 1e-12);
    ck_assert(criterion_information(-30) >= 0 && criterion_information(-30) < 1e-10);
}
END_TEST

/* Two that always changed together in ten coupons. One coupon apart (five against six, φ = 0.83)
 * makes an exact set a near one: it is separated. One more like those before leaves the near set
 * near: nothing new. One apart the other way (φ = 0.69) ends it. */
START_TEST(what_each_coupon_separates)
{
    static const double chosen[5][3] = {{1, 0, 0}, {1, 1, 0}, {0, 1, 1}, {1, 0, 0}, {1, 0, 1}};
    static const struct {
        size_t sets, like, like_chosen, changed;
        bool exact, repeat;
    } expected[5] = {{1, 0, SIZE_MAX, 1, true, false},
                     {0, 6, SIZE_MAX, 0, false, true},
                     {1, 1, SIZE_MAX, 1, false, false},
                     {0, SIZE_MAX, 0, 0, false, false},
                     {0, 1, SIZE_MAX, 1, false, false}};
    const double chance[3] = {0.5, 0.5, 0.5};
    struct design_request request = {two_levels(3), chance, NAN, 1, 1};
    double m[MOST * MOST], narrowed[3];
    struct explanation explanation;
    struct candidates candidates;
    struct criterion criterion;
    struct frame f;

    trial_make(&f, 3);
    for (size_t i = 0; i < 10; i++)
        set_welded(&f, measure_exact(50 + 7 * (double)(i * i % 11)),
                   (double[]){i >= 5, i >= 5, (double)(i % 2)});
    slow_matrix(&f, m);
    ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
    criterion_make(&candidates, &request, &criterion);
    explain_begin(&candidates, &criterion, &explanation);
    for (size_t i = 0; i < 5; i++) {
        struct design_coupon c;

        explain_coupon(&explanation, chosen[0], i, &c);
        ck_assert_uint_eq(c.separate_count, expected[i].sets);
        if (c.separate_count > 0) {
            ck_assert_uint_eq(c.separates[0].count, 2);
            ck_assert_uint_eq(c.separates[0].columns[0] + c.separates[0].columns[1], 1);
            ck_assert_int_eq(c.separates[0].exact, expected[i].exact);
        }
        ck_assert_uint_eq(c.like, expected[i].like);
        ck_assert_uint_eq(c.like_chosen, expected[i].like_chosen);
        ck_assert_uint_eq(c.changed_count, expected[i].changed);
        ck_assert_int_eq(c.repeat, expected[i].repeat);
        for (size_t j = 0; j < 3; j++)
            narrowed[j] = slow_variance(m, 4, j + 1);
        slow_add(m, 4, chosen[i]);
        ck_assert_uint_eq(c.gain_count, 3);
        for (size_t j = 0; j < 3; j++) {
            const struct design_gain *g = &c.gains[j];

            ck_assert_double_eq_tol(g->after / g->before,
                                    sqrt(slow_variance(m, 4, g->column + 1) / narrowed[g->column]),
                                    1e-9);
            ck_assert(j == 0 || g->after / g->before >= g[-1].after / g[-1].before);
        }
        design_coupon_free(&c);
    }
    explain_end(&explanation);
    criterion_free(&criterion);
    candidates_free(&candidates);
    frame_free(&f);
}
END_TEST

/* Of two pairs that always changed together the coupon parts the first; the other is as before. */
START_TEST(a_tie_broken_beside_another_that_stays)
{
    static const double parts[4] = {1, 0, 0, 0};
    const double chance[4] = {0.5, 0.5, 0.5, 0.5};
    struct design_request request = {two_levels(4), chance, NAN, 1, 1};
    struct explanation explanation;
    struct candidates candidates;
    struct criterion criterion;
    struct design_coupon c;
    struct frame f;

    trial_make(&f, 4);
    for (size_t i = 0; i < 12; i++) {
        double a = (double)(i % 2), b = (double)(i / 2 % 2);

        set_welded(&f, measure_exact(50 + 7 * (double)(i * i % 11)), (double[]){a, a, b, b});
    }
    ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
    criterion_make(&candidates, &request, &criterion);
    explain_begin(&candidates, &criterion, &explanation);
    explain_coupon(&explanation, parts, 0, &c);
    ck_assert_uint_eq(c.separate_count, 1);
    ck_assert_uint_eq(c.separates[0].count, 2);
    ck_assert(c.separates[0].columns[0] == 0 && c.separates[0].columns[1] == 1);
    ck_assert(c.separates[0].exact);
    design_coupon_free(&c);
    explain_end(&explanation);
    criterion_free(&criterion);
    candidates_free(&candidates);
    frame_free(&f);
}
END_TEST

/* Four coupons with the results 0.1, 0.4, 0.2, 0.5 (held: the last). */
static void scale_of(double range, double stop, struct criterion *criterion)
{
    static const double chance[2] = {0.5, 0.5};
    struct design_request request = {two_levels(2), chance, stop, 1, 1};
    struct candidates candidates;
    struct frame f;

    trial_make(&f, 2);
    f.range = range;
    set_welded(&f, measure_exact(0.1), (double[]){0, 0});
    set_welded(&f, measure_exact(0.4), (double[]){1, 0});
    set_welded(&f, measure_exact(0.2), (double[]){0, 1});
    set_welded(&f, measure_at_least(0.5), (double[]){1, 1});
    ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
    criterion_make(&candidates, &request, criterion);
    candidates_free(&candidates);
    frame_free(&f);
}

/* The unit is a sixth of the range; of the results' own where the range is not known. The stop is
 * that of the request, else that of the held coupons. */
START_TEST(scale_of_a_result)
{
    struct criterion c;

    scale_of(0.6, NAN, &c);
    ck_assert_double_eq_tol(c.centre, 0.3, 1e-12);
    ck_assert_double_eq_tol(c.unit, 0.1, 1e-12);
    ck_assert_double_eq_tol(c.stop, 2, 1e-9);
    criterion_free(&c);
    scale_of(0, 0.45, &c);
    ck_assert_double_eq_tol(c.unit, 0.4 / 6, 1e-12);
    ck_assert_double_eq_tol(c.centre + c.unit * c.stop, 0.45, 1e-12);
    criterion_free(&c);
}
END_TEST

/* Held at 120, 100, 110, 100, 110: most at 100 and 110, and 100 came first. Each welded coupon
 * counts with the information at its own stop, the broken ones with that at the usual one. */
START_TEST(usual_stop_and_information)
{
    static const double stops[] = {120, 100, 110, 100, 110};
    const double chance[2] = {0.5, 0.5};
    struct design_request request = {two_levels(2), chance, NAN, 1, 1};
    struct candidates candidates;
    struct criterion c;
    struct frame f;
    double m[9] = {1e-6, 0, 0, 0, 0.25, 0, 0, 0, 0.25}, spread = 1, mean = 0;

    trial_make(&f, 2);
    for (size_t i = 0; i < 10; i++)
        set_welded(&f, i % 2 ? measure_at_least(stops[i / 2]) : measure_exact(40 + 6 * (double)i),
                   (double[]){(double)(i % 2), (double)(i / 2 % 2)});
    ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
    criterion_make(&candidates, &request, &c);
    ck_assert_double_eq_tol(c.centre + c.unit * c.stop, 100, 1e-9);
    for (size_t i = 0; i < 10; i++) {
        const double x[3] = {1, (double)(i % 2) - 0.5, (double)(i / 2 % 2) - 0.5};
        double stop = ((i % 2 ? stops[i / 2] : 100) - c.centre) / c.unit;
        double z = (stop - x[0] * c.beta[0] - x[1] * c.beta[1] - x[2] * c.beta[2]) / c.sigma;

        for (size_t j = 0; j < 9; j++)
            m[j] += fmax(0.02, criterion_information(z)) * x[j / 3] * x[j % 3];
    }
    for (size_t j = 0; j < 9; j++)
        ck_assert_double_eq_tol(c.matrix[j], m[j], 1e-9);
    /* The chance to hold, with the spread of the mean and of a coupon about it. */
    for (size_t j = 0; j < 9; j++)
        spread += c.inverse[j] * (double[]){1, 0.5, -0.5}[j / 3] * (double[]){1, 0.5, -0.5}[j % 3];
    mean = c.beta[0] + c.beta[1] / 2 - c.beta[2] / 2;
    ck_assert_double_eq_tol(criterion_chance_held(&c, (double[]){1, 0.5, -0.5}),
                            erfc((c.stop - mean) / c.sigma / sqrt(2 * spread)) / 2, 1e-9);
    ck_assert_double_eq_tol(criterion_expected(&c, (double[]){1, 0.5, -0.5}),
                            c.centre + c.unit * mean, 1e-9);
    criterion_free(&c);
    candidates_free(&candidates);
    frame_free(&f);
}
END_TEST

/* Of a category, the root mean square of the deviations of all differences of two levels. */
START_TEST(deviation_of_a_category)
{
    struct random r = random_seeded(8);
    struct design_request request = {.stop = NAN, .count = 1};
    struct candidates s;
    struct criterion c;
    struct frame f;

    mixed_trial(&f, 14, &r);
    ck_assert_int_eq(candidates_make(&f, &request, &s, NULL), 0);
    criterion_make(&s, &request, &c);
    for (size_t g = 0; g < s.group_count; g += 2) {
        const struct candidate_group *group = &s.groups[g];
        size_t k = group->group.count, first = group->group.first;
        double squares = 0, pairs = 0;

        ck_assert_uint_eq(group->count, k + 1);
        for (size_t a = 0; a < group->count; a++)
            for (size_t b = 0; b < a; b++, pairs++)
                for (size_t i = 0; i < k; i++)
                    for (size_t j = 0; j < k; j++)
                        squares += (group->codes[a * k + i] - group->codes[b * k + i]) *
                                   (group->codes[a * k + j] - group->codes[b * k + j]) *
                                   c.inverse[(first + i) * c.p + first + j];
        ck_assert_double_eq_tol(criterion_deviation(&c, &group->group), sqrt(squares / pairs),
                                1e-9);
    }
    criterion_free(&c);
    candidates_free(&s);
    frame_free(&f);
}
END_TEST

/* Of more than three values of a number the ends and the one nearest the middle are at hand (the
 * lower of two), of three all; given levels count instead; a column with gaps that was not ranked
 * is no group, and one of a single value is known but not a choice. */
/* Of three columns the second was not ranked and the third neither: what is known of every coupon
 * stays, what has a gap is left out unless its levels are given. */
START_TEST(what_could_not_be_ranked_is_left_out_only_with_a_gap)
{
    const double chance[3] = {0.5, NAN, NAN};
    struct design_levels levels[3] = {{0}};
    struct design_request request = {levels, chance, NAN, 1, 1};
    struct candidates candidates;
    struct frame f;

    trial_make(&f, 3);
    for (size_t i = 0; i < 6; i++)
        set_welded(&f, measure_exact(50 + (double)i),
                   (double[]){(double)(i % 2), i >= 3, i == 4 ? NAN : (double)(i % 3 == 0)});
    ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
    ck_assert_uint_eq(candidates.group_count, 2);
    ck_assert_uint_eq(candidates.groups[0].group.column, 0);
    ck_assert_uint_eq(candidates.groups[1].group.column, 1);
    candidates_free(&candidates);
    levels[2] = two_levels(3)[2];
    ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
    ck_assert_uint_eq(candidates.group_count, 3);
    candidates_free(&candidates);
    frame_free(&f);
}
END_TEST

START_TEST(levels_at_hand)
{
    static const double rows[][5] = {{1, 1, 1, 0, 9}, {2, 3, 2, 1, 9},   {3, 5, 5, 0, 9},
                                     {7, 7, 1, 1, 9}, {1, 1, 1, NAN, 9}, {1, 1, 1, 0, 9}};
    static const double at_hand[3][3] = {{1, 3, 7}, {1, 3, 7}, {1, 2, 5}};
    double given[] = {4, 2, 4};
    struct design_levels levels[5] = {{0}, {0}, {0}, {0}, {0}};
    double chance[5] = {0.5, 0.5, 0.5, NAN, NAN};
    struct design_request request = {levels, chance, NAN, 1, 1};
    size_t choice[3] = {0}, combinations = 1;
    struct candidates s;
    struct frame f;

    trial_make(&f, 5);
    for (size_t i = 0; i < 6; i++)
        set_welded(&f, measure_exact(50 + (double)i), rows[i]);
    ck_assert_int_eq(candidates_make(&f, &request, &s, NULL), 0);
    ck_assert_uint_eq(s.group_count, 3);
    for (size_t g = 0; g < 3; g++) {
        ck_assert_uint_eq(s.groups[g].count, 3);
        for (size_t i = 0; i < 3; i++)
            ck_assert_double_eq(s.groups[g].values[i], at_hand[g][i]);
    }
    ck_assert_double_eq(s.combinations, 27);
    while (candidates_next(&s, choice))
        combinations++;
    ck_assert_uint_eq(combinations, 27);
    ck_assert(isnan(s.only[0]) && isnan(s.only[3]));
    ck_assert_double_eq(s.only[4], 9);
    /* Four different set-ups, in the order welded; the gap does not count. */
    ck_assert_uint_eq(s.n, 6);
    ck_assert_uint_eq(s.setup_count, 4);
    for (size_t i = 0; i < 4; i++)
        ck_assert_uint_eq(s.setups[i], i);
    candidates_free(&s);
    levels[0] = (struct design_levels){given, 3};
    chance[3] = 0.1;
    ck_assert_int_eq(candidates_make(&f, &request, &s, NULL), 0);
    ck_assert_uint_eq(s.group_count, 4);
    ck_assert_uint_eq(s.groups[0].count, 2);
    ck_assert_double_eq(s.groups[0].values[0], 2);
    ck_assert_double_eq(s.groups[0].values[1], 4);
    ck_assert_uint_eq(s.n, 5);
    candidates_free(&s);
    frame_free(&f);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/criterion");
    TCase *t = tcase_create("design");

    tcase_add_test(t, information_of_a_coupon_that_may_be_held);
    tcase_add_test(t, what_each_coupon_separates);
    tcase_add_test(t, a_tie_broken_beside_another_that_stays);
    tcase_add_test(t, scale_of_a_result);
    tcase_add_test(t, usual_stop_and_information);
    tcase_add_test(t, deviation_of_a_category);
    tcase_add_test(t, what_could_not_be_ranked_is_left_out_only_with_a_gap);
    tcase_add_test(t, levels_at_hand);
    suite_add_tcase(s, t);
    return s;
}
