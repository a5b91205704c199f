/* The shuffle check: Holm's adjustment, its level without a driver, its power with one. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>

#include "stats/num/guard.h"
#include "stats/num/holm.h"
#include "stats/num/random.h"
#include "stats/rank/permutation_check.h"
#include "table.h"

/* S. Holm, Scand. J. Statist. 6:65, 1979: 0.01·4, 0.02·3, 0.03·2, 0.04·1, each at least the one
 * before. R's p.adjust(c(.04, .01, .03, .02), "holm") gives the same. */
START_TEST(holm_by_hand)
{
    double chance[] = {0.04, 0.01, NAN, 0.03, 0.02}, large[] = {0.6, 0.9};

    holm_adjust(chance, 5);
    ck_assert_double_eq_tol(chance[1], 0.04, 1e-15);
    ck_assert_double_eq_tol(chance[4], 0.06, 1e-15);
    ck_assert_double_eq_tol(chance[3], 0.06, 1e-15);
    ck_assert_double_eq_tol(chance[0], 0.06, 1e-15);
    ck_assert(isnan(chance[2]));
    holm_adjust(large, 2);
    ck_assert_double_eq(large[0], 1);
    ck_assert_double_eq(large[1], 1);
}
END_TEST

/* Three two-level variables in n coupons, the first worth `effect`, held at 80. */
static void make(size_t n, double effect, struct random *random, struct model_matrix *c)
{
    struct frame f;
    struct error e = {0};

    frame_init(&f, "y", "y", "", 180);
    for (size_t j = 0; j < 3; j++)
        frame_add_column(&f, "x", "x", "", false);
    for (size_t i = 0; i < n; i++) {
        double y = 60 + 15 * random_normal(random);

        frame_add_row(&f, "m", measure_missing());
        for (size_t j = 0; j < 3; j++)
            frame_set_number(&f, i, j, (double)(i >> j & 1));
        y += effect * (double)(i & 1);
        f.y[i] = y > 80 ? measure_at_least(80) : measure_exact(y);
    }
    ck_assert_msg(model_matrix_make(&f, c, NULL, &e) == 0, "%s", e.text);
    frame_free(&f);
}

/* Share of seeded trials in which any (from 0) or the first variable is at or below 0.05. */
static double alarms(size_t n, double effect, bool first_only, size_t trials, uint64_t seed)
{
    struct random random = random_seeded(seed);
    size_t count = 0;

    for (size_t t = 0; t < trials; t++) {
        struct model_matrix c;
        double chance[3];

        make(n, effect, &random, &c);
        permutation_check(&c, 199, t, chance);
        count += chance[0] <= 0.05 || (!first_only && (chance[1] <= 0.05 || chance[2] <= 0.05));
        model_matrix_free(&c);
    }
    return (double)count / (double)trials;
}

/* At 0.05 for three variables together, with a fifth of false alarms to spare: 400 trials have a
 * standard error of 0.011. */
START_TEST(the_level_is_kept_with_held_results)
{
    double without = alarms(12, 0, false, 400, 11), with = alarms(12, 60, true, 100, 12);

    printf("false alarms %.3f, found %.2f\n", without, with);
    ck_assert_double_le(without, 0.08);
    ck_assert_double_ge(with, 0.7);
}
END_TEST

START_TEST(tied_variables_have_no_chance_of_their_own)
{
    struct frame f;
    struct model_matrix c;
    struct error e = {0};
    double chance[3];

    table_to_frame("a,b,c,y\n0,0,0,40\n0,0,1,50\n1,1,0,100\n1,1,1,110\n0,0,1,44\n1,1,0,95\n", 180,
                   &f);
    ck_assert_int_eq(model_matrix_make(&f, &c, NULL, &e), 0);
    permutation_check(&c, 199, 1, chance);
    ck_assert(isnan(chance[0]) && isnan(chance[1]));
    ck_assert(!isnan(chance[2]));
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

/* Many coupons: the F distribution stands in; no driver, no alarm, and a driver is found. */
START_TEST(many_coupons_go_by_the_likelihood)
{
    double without = alarms(PERMUTATION_CHECK_MAX_ROWS + 8, 0, false, 40, 5);

    ck_assert_double_le(without, 0.15);
    ck_assert_double_eq(alarms(PERMUTATION_CHECK_MAX_ROWS + 8, 10, true, 5, 6), 1);
}
END_TEST

static double check_of_one(const char *table, size_t permutations)
{
    struct frame f;
    struct model_matrix c;
    double chance;

    table_to_frame(table, 180, &f);
    ck_assert_int_eq(model_matrix_make(&f, &c, NULL, NULL), 0);
    ck_assert_uint_eq(c.group_count, 1);
    permutation_check(&c, permutations, 3, &chance);
    model_matrix_free(&c);
    frame_free(&f);
    return chance;
}

/* One variable and nothing held: of the 20 ways to give three of six coupons the high end, 2 are as
 * far apart as the three largest against the three smallest, and 2 more as far as the next. */
START_TEST(one_variable_counted_by_hand)
{
    const double error = 1e-4 + 4 * sqrt(0.1 * 0.9 / 9999);

    ck_assert_double_eq_tol(check_of_one("a,y\n0,10\n0,20\n0,30\n1,100\n1,110\n1,120\n", 9999), 0.1,
                            error);
    ck_assert_double_eq_tol(check_of_one("a,y\n0,10\n0,20\n1,30\n0,100\n1,110\n1,120\n", 9999), 0.2,
                            1e-4 + 4 * sqrt(0.2 * 0.8 / 9999));
    /* Nobody can be further apart than everybody. */
    ck_assert_double_eq(check_of_one("a,y\n0,10\n1,10\n0,90\n1,90\n", 99), 1);
}
END_TEST

/* Of many coupons with nothing held: Student's test, whose square is F. */
START_TEST(many_exact_results_have_the_chance_of_student)
{
    enum { N = PERMUTATION_CHECK_MAX_ROWS + 100 };
    struct random random = random_seeded(4);
    struct frame f;
    struct model_matrix c;
    double mean[2] = {0, 0}, squares = 0, t, chance;

    frame_init(&f, "y", "y", "", 180);
    frame_add_column(&f, "a", "a", "", false);
    for (size_t i = 0; i < N; i++) {
        double y = 80 + 2 * (double)(i % 2) + 15 * random_normal(&random);

        frame_set_number(&f, frame_add_row(&f, "m", measure_exact(y)), 0, (double)(i % 2));
        mean[i % 2] += y / (N / 2);
    }
    for (size_t i = 0; i < N; i++)
        squares += pow(f.y[i].low - mean[i % 2], 2);
    t = (mean[1] - mean[0]) / sqrt(squares / (N - 2) * 4 / N);
    ck_assert_int_eq(model_matrix_make(&f, &c, NULL, NULL), 0);
    permutation_check(&c, 199, 1, &chance);
    ck_assert(chance > 1e-4 && chance < 0.9);
    ck_assert_double_eq_tol(chance / (2 * gsl_cdf_tdist_Q(fabs(t), N - 2)), 1, 0.01);
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/permutation_check");
    TCase *t = tcase_create("shuffle");

    guard_start();
    tcase_set_timeout(t, 120);
    tcase_add_test(t, holm_by_hand);
    tcase_add_test(t, the_level_is_kept_with_held_results);
    tcase_add_test(t, tied_variables_have_no_chance_of_their_own);
    tcase_add_test(t, many_coupons_go_by_the_likelihood);
    tcase_add_test(t, one_variable_counted_by_hand);
    tcase_add_test(t, many_exact_results_have_the_chance_of_student);
    suite_add_tcase(s, t);
    return s;
}
