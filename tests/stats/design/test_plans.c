/* Next coupons against brute force, published determinants and the identity behind the score. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "stats/design/exchange.h"
#include "stats/design/plans.h"
#include "stats/design/separate.h"
#include "trials.h"

/*
 * Largest determinants of n × n matrices of ±1 (OEIS A003433, Hadamard maximal determinant problem:
 * sequence 1, 2, 4, 16, 48, 160, 576, 4096 is quoted from memory): the best plan of n coupons for n
 * - 1 two-level variables reaches them.
 */
START_TEST(plans_reach_the_largest_determinants)
{
    static const double largest[] = {0, 1, 2, 4, 16, 48, 160, 576, 4096};
    size_t n = (size_t)_i;
    struct frame f;
    struct design_request request = {two_levels(n - 1), NULL, NAN, n, 7};
    struct design d;
    struct error e;
    double m[MOST * MOST] = {0}, x[MOST];

    trial_make(&f, n - 1);
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert_uint_eq(d.count, n);
    ck_assert(!d.from_results && d.all_tried);
    for (size_t i = 0; i < n; i++) {
        x[0] = 1;
        for (size_t j = 1; j < n; j++)
            x[j] = 2 * d.coupons[i].values[j - 1] - 1;
        for (size_t r = 0; r < n; r++)
            for (size_t c = 0; c < n; c++)
                m[r * n + c] += x[r] * x[c];
    }
    ck_assert_double_eq_tol(sqrt(exp(slow_log_det(m, n))), largest[n], 1e-6 * largest[n]);
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* The weighted fall in variance, worked out for every candidate with determinants alone. */
START_TEST(one_coupon_is_the_best_of_all_by_brute_force)
{
    struct random r = random_seeded(11 + (uint64_t)_i);
    size_t k = 2 + (size_t)_i % 3, p = k + 1;
    double chance[MOST], before[MOST * MOST], after[MOST * MOST], x[MOST], best = 0, found = 0;
    struct design_request request = {two_levels(k), chance, NAN, 1, 1};
    struct frame f;
    struct design d;
    struct error e;

    random_trial(&f, 5 + (size_t)_i % 4, k, &r);
    for (size_t j = 0; j < k; j++)
        chance[j] = random_uniform(&r);
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert(d.from_results && d.all_tried);
    slow_matrix(&f, before);
    for (size_t c = 0; c < (size_t)1 << k; c++) {
        double fall = 0;
        bool chosen = true;

        slow_matrix(&f, after);
        for (size_t j = 0; j < k; j++) {
            x[j] = (double)(c >> j & 1);
            chosen = chosen && x[j] == d.coupons[0].values[j];
        }
        slow_add(after, p, x);
        for (size_t j = 0; j < k; j++)
            fall += fmax(chance[j], 0.02) *
                    (slow_variance(before, p, j + 1) - slow_variance(after, p, j + 1));
        best = fmax(best, fall);
        found = chosen ? fall : found;
    }
    ck_assert_double_eq_tol(found, best, 1e-9 * best);
    ck_assert_double_eq_tol(d.coupons[0].score, best, 1e-9 * best);
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* Three coupons chosen together, against every triple of the eight set-ups. */
START_TEST(three_together_are_the_best_triple)
{
    struct random r = random_seeded(101 + (uint64_t)_i);
    struct design_request request = {two_levels(3), NULL, NAN, 3, (uint64_t)_i};
    double start[MOST * MOST], m[MOST * MOST], max = 0, base, gain = 0;
    struct frame f;
    struct design d;
    struct error e;

    random_trial(&f, (size_t)_i % 5, 3, &r);
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    slow_matrix(&f, start);
    for (int i = 0; i < 16; i++)
        m[i] = start[i];
    base = slow_log_det(m, 4);
    for (int c = 0; c < 512; c++) {
        for (int i = 0; i < 16; i++)
            m[i] = start[i];
        for (int j = 0; j < 3; j++) {
            int s = c >> (3 * j) & 7;

            slow_add(m, 4, (double[]){s & 1, s >> 1 & 1, s >> 2 & 1});
        }
        max = fmax(max, slow_log_det(m, 4) - base);
    }
    ck_assert_double_eq_tol(d.log_det_gain, max, 1e-8);
    /* det(M + xx') = det M (1 + x'M⁻¹x): the gains add up to that of all, the largest first. */
    for (size_t i = 0; i < 3; i++) {
        gain += log1p(d.coupons[i].score);
        ck_assert(i == 0 || d.coupons[i].score <= d.coupons[i - 1].score * (1 + 1e-9));
    }
    ck_assert_double_eq_tol(gain, max, 1e-8);
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* With results, coupon by coupon: each has the largest weighted fall given those before it. */
START_TEST(two_with_results_are_chosen_one_after_the_other)
{
    struct random r = random_seeded(300 + (uint64_t)_i);
    double chance[3] = {0.9, 0.4, 0.01}, before[MOST * MOST], after[MOST * MOST];
    struct design_request request = {two_levels(3), chance, NAN, 2, 1};
    struct frame f;
    struct design d;
    struct error e;

    random_trial(&f, 5 + (size_t)_i % 4, 3, &r);
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert_uint_eq(d.count, 2);
    slow_matrix(&f, before);
    for (size_t i = 0; i < 2; i++) {
        double best = 0;

        for (int c = 0; c < 8; c++) {
            double fall = 0;

            memcpy(after, before, sizeof after);
            slow_add(after, 4, (double[]){c & 1, c >> 1 & 1, c >> 2 & 1});
            for (size_t j = 0; j < 3; j++)
                fall += fmax(chance[j], 0.02) *
                        (slow_variance(before, 4, j + 1) - slow_variance(after, 4, j + 1));
            best = fmax(best, fall);
        }
        ck_assert_double_eq_tol(d.coupons[i].score, best, 1e-9 * best);
        slow_add(before, 4, d.coupons[i].values);
    }
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* One coupon without results tries every combination, also where several together could not: three
 * categories of 27 levels, 19,683 combinations of 79 columns. */
START_TEST(one_coupon_without_results_tries_all)
{
    struct design_request request = {.stop = NAN, .count = 1, .seed = 1};
    char level[2] = "A";
    struct frame f;
    struct design d;
    struct error e;

    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < 3; j++)
        frame_add_column(&f, "v", "v", "", true);
    for (size_t i = 0; i < 27; i++) {
        level[0] = (char)('A' + i);
        frame_add_row(&f, "c", measure_missing());
        for (size_t j = 0; j < 3; j++)
            frame_set_level(&f, i, j, level);
    }
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert_double_eq(d.combinations, 19683);
    ck_assert(d.all_tried && !d.from_results);
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* What the climb finds where every combination can be tried as well: never less. */
START_TEST(climbing_finds_what_trying_all_finds)
{
    struct random r = random_seeded(7);
    double chance[5], x[MOST];
    size_t choice[2][5];

    for (int t = 0; t < 60; t++) {
        struct design_request request = {NULL, chance, t % 2 ? 100 : NAN, 1, 1};
        struct frame f;
        struct candidates candidates;
        struct criterion criterion;
        double value[2];

        mixed_trial(&f, 6 + (size_t)t % 9, &r);
        for (int j = 0; j < 5; j++)
            chance[j] = random_uniform(&r);
        ck_assert_int_eq(candidates_make(&f, &request, &candidates, NULL), 0);
        criterion_make(&candidates, &request, &criterion);
        for (int all = 0; all < 2; all++) {
            struct exchange s = {&candidates, &criterion, all, DESIGN_STARTS, (uint64_t)t, NULL, 0};

            exchange_best(&s, choice[all]);
            candidates_row(&candidates, choice[all], x);
            value[all] = criterion_value(&criterion, x);
        }
        ck_assert_double_eq_tol(value[0], value[1], 1e-9 * value[1]);
        criterion_free(&criterion);
        candidates_free(&candidates);
        frame_free(&f);
    }
}
END_TEST

/* Wire and cleaning always changed together, thickness on its own. */
static void tied_trial(struct frame *f)
{
    static const double rows[][3] = {{0, 0, 3}, {1, 1, 3}, {0, 0, 5},
                                     {1, 1, 5}, {0, 0, 3}, {1, 1, 5}};

    trial_make(f, 3);
    for (size_t i = 0; i < 6; i++)
        set_welded(f,
                   i == 3 ? measure_at_least(135) : measure_exact(40 + 60 * rows[i][0] + (double)i),
                   rows[i]);
}

/* The coupon that separates an alias set of the first `count` columns. */
static void separate(const struct frame *f, const struct design_request *request, size_t count,
                     double *values)
{
    size_t columns[] = {0, 1, 2};
    struct alias_set set = {.columns = columns, .count = count, .exact = true};
    struct aliasing aliasing = {.sets = &set, .count = 1};

    design_separate(f, request, &aliasing);
    ck_assert_ptr_nonnull(set.separated_by);
    for (size_t i = 0; i < count; i++)
        values[i] = set.separated_by[i];
    free(set.separated_by);
}

START_TEST(a_tie_is_broken_by_the_next_coupon)
{
    const double chance[] = {0.8, 0.8, 0.2};
    double apart[2];
    struct design_request request = {NULL, chance, 135, 1, 1};
    struct frame f;
    struct design d;
    struct error e;

    tied_trial(&f);
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert_double_ne(d.coupons[0].values[0], d.coupons[0].values[1]);
    ck_assert_uint_eq(d.coupons[0].separate_count, 1);
    ck_assert_uint_eq(d.coupons[0].separates[0].count, 2);
    ck_assert_uint_eq(d.coupons[0].separates[0].columns[0], 0);
    ck_assert_uint_eq(d.coupons[0].separates[0].columns[1], 1);
    ck_assert_uint_eq(d.coupons[0].changed_count, 1);
    ck_assert(d.coupons[0].expected > 0 && d.coupons[0].chance_held > 0);
    /* What the tie hid narrows most, and nothing widens. */
    ck_assert_uint_ne(d.coupons[0].gains[0].column, 2);
    for (size_t i = 0; i < 3; i++)
        ck_assert_double_le(d.coupons[0].gains[i].after, d.coupons[0].gains[i].before);
    separate(&f, &request, 2, apart);
    ck_assert_double_ne(apart[0], apart[1]);
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* Passes = thickness class + joint class with every pair apart. */
START_TEST(a_tie_of_three_is_broken_too)
{
    static const double rows[][3] = {{0, 0, 0}, {1, 0, 1}, {0, 1, 1},
                                     {1, 1, 2}, {1, 0, 1}, {0, 0, 0}};
    const double chance[] = {0.5, 0.5, 0.5};
    struct design_request request = {NULL, chance, NAN, 1, 1};
    size_t like = 0;
    double apart[3];
    struct frame f;

    trial_make(&f, 3);
    for (size_t i = 0; i < 6; i++)
        set_welded(&f, measure_exact(50 + 10 * (double)i), rows[i]);
    separate(&f, &request, 3, apart);
    ck_assert_double_ne(apart[2], apart[0] + apart[1]);
    for (size_t i = 0; i < 6; i++) /* one change from a coupon already welded */
        like += (rows[i][0] == apart[0]) + (rows[i][1] == apart[1]) + (rows[i][2] == apart[2]) == 2;
    ck_assert_uint_gt(like, 0);
    frame_free(&f);
}
END_TEST

/* c = (a + b) / 2: of every welded coupon with one of the three changed to a value welded before,
 * so that c is not (a + b) / 2 any more, the one that narrows the three effects most. */
START_TEST(the_change_that_separates_is_the_best_by_brute_force)
{
    struct random r = random_seeded(40 + (uint64_t)_i);
    const double chance[] = {0.9, 0.5, 0.1};
    struct design_request request = {NULL, chance, NAN, 1, 1};
    double before[MOST * MOST], apart[3], best = 0, found = 0;
    struct frame f;

    trial_make(&f, 3);
    for (size_t i = 0; i < 7; i++) {
        double a = i < 4 ? (double)(i % 2) : (double)random_below(&r, 2);
        double b = i < 4 ? (double)(i / 2) : (double)random_below(&r, 2);

        set_welded(&f, measure_exact(50 + 9 * (double)(i * i % 7)), (double[]){a, b, (a + b) / 2});
    }
    separate(&f, &request, 3, apart);
    slow_matrix(&f, before);
    for (size_t i = 0; i < f.n * 9; i++) {
        size_t member = i % 3;
        double after[MOST * MOST], fall = 0, x[3];

        for (size_t j = 0; j < 3; j++)
            x[j] = f.columns[j].x[i / 9];
        x[member] = (double)(i / 3 % 3) / 2;
        if ((member < 2 && x[member] == 0.5) || x[2] == (x[0] + x[1]) / 2)
            continue;
        memcpy(after, before, sizeof after);
        slow_add(after, 4, x);
        for (size_t j = 1; j < 4; j++)
            fall += slow_variance(before, 4, j) - slow_variance(after, 4, j);
        best = fmax(best, fall);
        if (x[0] == apart[0] && x[1] == apart[1] && x[2] == apart[2])
            found = fall;
    }
    ck_assert_double_gt(best, 0);
    ck_assert_double_eq_tol(found, best, 1e-9 * best);
    frame_free(&f);
}
END_TEST

START_TEST(a_level_never_welded_can_be_proposed)
{
    static double fresh[] = {0, 1};
    struct design_levels levels[3] = {{0}, {0}, {fresh, 2}};
    const double chance[] = {0.9, 0.1, NAN};
    struct design_request request = {levels, chance, NAN, 2, 1};
    struct frame f;
    struct design d;
    struct error e;
    bool proposed = false;

    trial_make(&f, 3);
    for (size_t i = 0; i < 4; i++)
        set_welded(&f, measure_exact(50 + 30 * (double)(i % 2)),
                   (double[]){(double)(i % 2), (double)(i / 2), 0});
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    for (size_t i = 0; i < d.count; i++)
        proposed = proposed || d.coupons[i].values[2] == 1;
    ck_assert(proposed);
    ck_assert_uint_eq(d.coupons[0].separates[0].count, 1);
    ck_assert_uint_eq(d.coupons[0].separates[0].columns[0], 2);
    design_free(&d);
    frame_free(&f);
}
END_TEST

START_TEST(nothing_to_choose_is_refused)
{
    struct design_request request = {.stop = NAN, .count = 1};
    struct frame f;
    struct design d;
    struct error e;

    trial_make(&f, 1);
    set_welded(&f, measure_exact(50), (double[]){1});
    ck_assert_int_lt(design_next(&f, &request, &d, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    for (int i = 0; i < 2; i++) {
        request.count = i == 0 ? 0 : 65;
        ck_assert_int_lt(design_next(&f, &request, &d, &e), 0);
        ck_assert_int_eq(e.kind, ERROR_USAGE);
    }
    request.levels = two_levels(1);
    request.count = 64;
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert_uint_eq(d.count, 64);
    design_free(&d);
    frame_free(&f);
}
END_TEST

/* 12 categories of 5 levels: 244 million combinations are searched, not tried. */
START_TEST(twelve_variables_of_five_levels)
{
    struct random r = random_seeded(5);
    struct design_request request = {.stop = 135, .count = 1, .seed = 3};
    double chance[12];
    char level[2] = "a";
    struct frame f;
    struct design d;
    struct error e;

    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < 12; j++) {
        frame_add_column(&f, "v", "v", "", true);
        chance[j] = random_uniform(&r);
    }
    for (size_t i = 0; i < 40; i++) {
        size_t row = frame_add_row(&f, "c", measure_exact(90 + 30 * random_normal(&r)));

        for (size_t j = 0; j < 12; j++) {
            level[0] = (char)('a' + (i < 5 ? i : random_below(&r, 5)));
            frame_set_level(&f, row, j, level);
        }
    }
    frame_sort_levels(&f);
    request.chance = chance;
    ck_assert_int_eq(design_next(&f, &request, &d, &e), 0);
    ck_assert_double_eq(d.combinations, 244140625);
    ck_assert(!d.all_tried);
    design_free(&d);
    frame_free(&f);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/plans");
    TCase *t = tcase_create("design");

    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, plans_reach_the_largest_determinants, 2, 9);
    tcase_add_loop_test(t, one_coupon_is_the_best_of_all_by_brute_force, 0, 30);
    tcase_add_loop_test(t, three_together_are_the_best_triple, 0, 100);
    tcase_add_loop_test(t, two_with_results_are_chosen_one_after_the_other, 0, 10);
    tcase_add_test(t, one_coupon_without_results_tries_all);
    tcase_add_test(t, climbing_finds_what_trying_all_finds);
    tcase_add_test(t, a_tie_is_broken_by_the_next_coupon);
    tcase_add_test(t, a_tie_of_three_is_broken_too);
    tcase_add_loop_test(t, the_change_that_separates_is_the_best_by_brute_force, 0, 10);
    tcase_add_test(t, a_level_never_welded_can_be_proposed);
    tcase_add_test(t, nothing_to_choose_is_refused);
    tcase_add_test(t, twelve_variables_of_five_levels);
    suite_add_tcase(s, t);
    return s;
}
