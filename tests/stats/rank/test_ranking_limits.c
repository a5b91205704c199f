/* What the ranking does with little, with gaps, with very much, and when it is told to stop. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "answer.h"
#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "table.h"

/* Every refusal says what is the matter. */
static const struct refusal {
    const char *table, *says;
} refusals[] = {
    {"a,y\n0,90+\n0,90+\n1,90+\n1,90+\n", "Nothing broke"},
    {"a,y\n0,<=10\n0,<=10\n1,<=10\n1,<=10\n", "at most"},
    {"a,y\n0,40\n1,50\n1,60\n", "Only 3 coupons"},
    {"a,y\n0,50\n0,50\n1,50\n1,50\n", "equal"},
    {"a,y\n0,<=50\n0,50\n1,50+\n1,50\n", "equal"},
    {"a,y\n1,40\n1,50\n1,60\n1,70\n", "No variable was changed"},
    {"a,y\n,40\n,50\n,60\n,70\n", "No variable was changed"},
    {"a,y\n0,\n1,\n0,\n1,\n", "No coupon has a result"},
};

START_TEST(what_cannot_be_ranked_is_refused)
{
    struct frame f;
    struct ranking r;
    struct error e = {0};

    table_to_frame(refusals[_i].table, _i == 4 ? 0 : 180, &f); /* 4: no range but the observed */
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), -1);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_msg(strstr(e.text, refusals[_i].says) != NULL, "%s", e.text);
    ck_assert_uint_eq(r.count, 0);
    frame_free(&f);
}
END_TEST

START_TEST(missing_cells_leave_coupons_out)
{
    struct answer a;

    /* c never changes, so its gap matters to nobody; d changes only in a coupon without result */
    answer_make("mark,a,b,c,d,y\n1,0,0,5,1,40\n2,0,1,,1,52\n3,1,0,5,1,90\n4,1,1,5,1,101\n"
                "5,,1,5,1,99\n6,1,1,5,2,\n7,0,0,5,1,44\n8,1,,5,1,90+\n",
                180, NULL, &a);
    ck_assert_uint_eq(a.r.coupons, 8);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.held, 0);
    ck_assert_uint_eq(a.r.excluded.row_count, 3);
    ck_assert_uint_eq(a.r.excluded.rows[0].row, 4);
    ck_assert_uint_eq(a.r.excluded.rows[0].column, 0);
    ck_assert_uint_eq(a.r.excluded.rows[1].row, 5);
    ck_assert_uint_eq(a.r.excluded.rows[1].column, NO_COLUMN);
    ck_assert_uint_eq(a.r.excluded.rows[2].row, 7);
    ck_assert_uint_eq(a.r.excluded.rows[2].column, 1);
    ck_assert_uint_eq(a.r.excluded.never_changed_count, 2);
    ck_assert_uint_eq(a.r.matrix.rows[1], 1);
    ck_assert_uint_eq(a.r.count, 2);
    answer_free(&a);
}
END_TEST

START_TEST(a_column_that_stops_changing_lets_its_coupons_back_in)
{
    struct answer a;

    /* b changes only in the coupon that a leaves out: then b is set aside and 3 comes back */
    answer_make("a,b,y\n0,1,40\n0,1,44\n1,,90\n1,1,95\n,2,60\n1,1,93\n", 180, NULL, &a);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.excluded.never_changed_count, 1);
    ck_assert_uint_eq(a.r.excluded.row_count, 1);
    ck_assert_uint_eq(a.r.excluded.rows[0].row, 4);
    answer_free(&a);
}
END_TEST

START_TEST(a_column_hardly_ever_filled_in_does_not_stop_the_ranking)
{
    struct answer a;

    answer_make("a,b,y\n0,1,40\n0,,44\n1,2,90\n1,,95\n0,,42\n", 180, NULL, &a);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.excluded.too_seldom_count, 1);
    ck_assert_uint_eq(a.r.excluded.too_seldom[0], 1);
    ck_assert_uint_eq(a.r.count, 1);
    answer_free(&a);
}
END_TEST

START_TEST(one_exact_result_is_enough)
{
    struct answer a;

    answer_make("a,b,y\n0,1,40\n0,0,90+\n1,1,90+\n1,0,90+\n1,1,90+\n", 180, NULL, &a);
    for (size_t i = 0; i < a.r.count; i++) {
        ck_assert(isfinite(a.r.items[i].effect) && isfinite(a.r.items[i].low) &&
                  isfinite(a.r.items[i].high));
        ck_assert(a.r.items[i].chance > 0 && a.r.items[i].chance < 1);
    }
    ck_assert_str_eq(key_at(&a, 0), "a");
    ck_assert_int_eq(a.r.scatter_from, SCATTER_ASSUMED);
    ck_assert_double_eq(a.r.scatter, 15);
    ck_assert_uint_eq(a.r.held, 4);
    answer_free(&a);
}
END_TEST

/* 300 of 302 held, and the two that broke far below: far out in the tail. */
START_TEST(nearly_everything_held)
{
    char table[16000] = "a,b,y\n0,0,1\n0,1,2\n";
    size_t length = strlen(table);
    struct answer a;

    for (int i = 0; i < 300; i++)
        length += (size_t)snprintf(table + length, sizeof table - length, "%d,%d,175+\n",
                                   i % 10 > 0, i % 3 == 0);
    answer_make(table, 180, NULL, &a);
    ck_assert_str_eq(key_at(&a, 0), "a");
    for (size_t i = 0; i < 2; i++) {
        ck_assert(isfinite(a.r.items[i].effect));
        ck_assert(a.r.items[i].low < a.r.items[i].high);
    }
    answer_free(&a);
}
END_TEST

/* More variables than coupons: an answer all the same, and it says that coupons are short. */
START_TEST(fewer_coupons_than_variables)
{
    struct answer a;

    answer_make("a,b,c,d,e,f,y\n0,0,0,0,0,1,40\n1,0,0,1,0,0,90\n0,1,0,1,1,0,55\n0,0,1,0,1,0,50\n"
                "1,1,1,0,0,1,95\n",
                180, NULL, &a);
    ck_assert(a.r.aliasing.short_of_coupons);
    ck_assert_str_eq(key_at(&a, 0), "a");
    for (size_t i = 0; i < a.r.aliasing.count; i++)
        ck_assert(!a.r.aliasing.sets[i].exact || a.r.aliasing.sets[i].count < 5);
    answer_free(&a);
}
END_TEST

START_TEST(the_same_seed_gives_the_same_answer)
{
    struct ranking_options options = ranking_usual();
    struct answer a, b;
    const char *table = "a,b,y\n0,3,40\n1,5,52\n0,4,90+\n1,9,80\n0,6,35\n1,2,71\n";

    options.permutations = 499;
    options.seed = 42;
    answer_make(table, 180, &options, &a);
    answer_make(table, 180, &options, &b);
    for (size_t i = 0; i < 2; i++) {
        ck_assert_double_eq(a.r.items[i].prob_largest, b.r.items[i].prob_largest);
        ck_assert_double_eq(a.r.items[i].permutation_chance, b.r.items[i].permutation_chance);
        ck_assert_double_eq(a.r.items[i].low, b.r.items[i].low);
    }
    answer_free(&a);
    answer_free(&b);
}
END_TEST

START_TEST(nothing_asked_is_the_usual)
{
    struct ranking_options usual = ranking_usual(), by_hand = {.intervals = true, .seed = 1};
    struct ranking_options other = {.intervals = true, .seed = 2};
    struct answer a, b, c;
    const char *table = "a,b,y\n0,3,40\n1,5,52\n0,4,90+\n1,9,80\n0,6,35\n1,2,71\n";

    ck_assert_uint_eq(usual.seed, 1);
    ck_assert(usual.intervals && usual.permutations == 0 && usual.progress == NULL);
    answer_make(table, 180, NULL, &a);
    answer_make(table, 180, &by_hand, &b);
    answer_make(table, 180, &other, &c);
    ck_assert_double_eq(a.r.items[0].prob_largest, b.r.items[0].prob_largest);
    ck_assert_double_ne(a.r.items[0].prob_largest, c.r.items[0].prob_largest);
    ck_assert(isnan(a.r.items[0].permutation_chance) && isfinite(a.r.items[0].low));
    answer_free(&a);
    answer_free(&b);
    answer_free(&c);
}
END_TEST

/* A training shop's book: 100,000 coupons, 12 variables, a third held. Half the variables are
 * numbers, so that no two coupons are alike. */
START_TEST(a_hundred_thousand_coupons)
{
    struct random random = random_seeded(1);
    struct frame f;
    struct ranking r;
    struct error e = {0};

    frame_init(&f, "y", "y", "°", 180);
    for (size_t j = 0; j < 12; j++)
        frame_add_column(&f, "x", "x", "", false);
    for (size_t i = 0; i < 100000; i++) {
        double y = 60 + 15 * random_normal(&random);

        frame_add_row(&f, "m", measure_missing());
        for (size_t j = 0; j < 12; j++)
            frame_set_number(&f, i, j,
                             j < 6 ? random_uniform(&random) : (double)random_below(&random, 2));
        y += 30 * f.columns[0].x[i] + 20 * f.columns[11].x[i];
        f.y[i] = y > 95 ? measure_at_least(95) : measure_exact(y);
    }
    ck_assert_msg(ranking_make(&f, NULL, &r, &e) == 0, "%s", e.text);
    ck_assert_uint_eq(r.used, 100000);
    ck_assert(r.approximated);
    ck_assert_uint_eq(r.items[0].column, 0);
    ck_assert_uint_eq(r.items[1].column, 11);
    ck_assert_double_eq_tol(r.items[0].effect, 30, 0.5);
    ck_assert_double_eq_tol(r.items[1].effect, 20, 0.5);
    ck_assert(r.items[0].low < 30 && r.items[0].high > 30);
    ck_assert_double_eq_tol(r.scatter, 15, 0.1);
    ck_assert_int_ne(r.items[2].word, SURE_CLEAR);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

static bool stop_late(void *user, double done)
{
    double *max = user;

    ck_assert_double_ge(done, *max);
    *max = done;
    return done < 0.6;
}

static bool go_on(void *user, double done)
{
    double *told = user;

    ck_assert_double_gt(done, *told);
    *told = done;
    return true;
}

/* The intervals, a number's one and a category's three, take the second half of the work. */
START_TEST(the_last_that_is_told_is_the_whole)
{
    double told = 0;
    struct ranking_options options = {.progress = go_on, .user = &told};
    struct answer a;

    answer_make("a,b,y\nk,3,40\nl,5,52\nm,4,90+\nk,9,80\nl,6,35\nm,2,71\n", 180, &options, &a);
    ck_assert_double_eq(told, 1);
    ck_assert(isnan(a.r.items[0].low));
    answer_free(&a);
}
END_TEST

START_TEST(work_can_be_stopped)
{
    double max = 0;
    struct ranking_options options = ranking_usual();
    struct frame f;
    struct ranking r;
    struct error e = {0};

    options.progress = stop_late;
    options.user = &max;
    table_to_frame("a,b,y\n0,3,40\n1,5,52\n0,4,90+\n1,9,80\n0,6,35\n1,2,71\n", 180, &f);
    ck_assert_int_eq(ranking_make(&f, &options, &r, &e), -1);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_double_ge(max, 0.6);
    ck_assert_ptr_null(r.items);
    frame_free(&f);
}
END_TEST

/* The first column is missing where the index of the column is 0, the last where it is k − 1. */
START_TEST(a_gap_in_the_first_column_leaves_its_coupon_out)
{
    struct answer a;

    answer_make("mark,sides,gas,y\n1,one,x,40\n2,both,z,80\n3,,x,60\n4,one,z,45\n5,both,x,85\n"
                "6,one,,50\n7,both,z,\n8,one,x,42\n",
                180, NULL, &a);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.excluded.row_count, 3);
    for (size_t i = 0; i < 3; i++) {
        static const size_t rows[] = {2, 5, 6}, columns[] = {0, 1, NO_COLUMN};

        ck_assert_uint_eq(a.r.excluded.rows[i].row, rows[i]);
        ck_assert_uint_eq(a.r.excluded.rows[i].column, columns[i]);
    }
    answer_free(&a);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/ranking_limits");
    TCase *t = tcase_create("limits");

    guard_start();
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, what_cannot_be_ranked_is_refused, 0, sizeof refusals / sizeof *refusals);
    tcase_add_test(t, missing_cells_leave_coupons_out);
    tcase_add_test(t, a_column_that_stops_changing_lets_its_coupons_back_in);
    tcase_add_test(t, a_column_hardly_ever_filled_in_does_not_stop_the_ranking);
    tcase_add_test(t, one_exact_result_is_enough);
    tcase_add_test(t, nearly_everything_held);
    tcase_add_test(t, fewer_coupons_than_variables);
    tcase_add_test(t, the_same_seed_gives_the_same_answer);
    tcase_add_test(t, nothing_asked_is_the_usual);
    tcase_add_test(t, a_hundred_thousand_coupons);
    tcase_add_test(t, the_last_that_is_told_is_the_whole);
    tcase_add_test(t, work_can_be_stopped);
    tcase_add_test(t, a_gap_in_the_first_column_leaves_its_coupon_out);
    suite_add_tcase(s, t);
    return s;
}
