/* Two sides: counts, words, refusals. The figures are held against GNU R by compare_oracle.R. */
#include "run.h"

#include <math.h>

#include "stats/compare/compare.h"

/* Cleaning: ground or not; volts rising through six values. */
static void make(struct frame *f)
{
    static const double angle[] = {35, 42, 120, 50, 135, 110, 55, 128};

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    frame_add_column(f, "cleaning", "Cleaning", "", true);
    frame_add_column(f, "volts", "Volts", "V", false);
    for (int i = 0; i < 8; i++) {
        size_t row = frame_add_row(
            f, "c", angle[i] < 135 ? measure_exact(angle[i]) : measure_at_least(angle[i]));

        frame_set_level(f, row, 0, angle[i] > 100 ? "ground" : "as rolled");
        frame_set_number(f, row, 1, 16 + (i < 6 ? i : 2));
    }
    frame_set_level(f, frame_add_row(f, "c", measure_missing()), 0, "ground");
    frame_sort_levels(f);
}

START_TEST(two_levels_side_by_side)
{
    struct comparison_list list;
    struct comparison *c;
    struct frame f;
    struct error e;

    make(&f);
    ck_assert_int_eq(compare_variable(&f, 0, 1, &list, &e), 0);
    ck_assert_uint_eq(list.count, 1);
    c = &list.items[0];
    ck_assert_str_eq(c->a.label, "as rolled");
    ck_assert_str_eq(c->b.label, "ground");
    ck_assert_uint_eq(c->a.count, 4);
    ck_assert_uint_eq(c->b.count, 4);
    ck_assert_uint_eq(c->b.held, 1);
    ck_assert_uint_eq(c->b.broke, 3);
    ck_assert(isnan(c->plain) && !isnan(c->a.plain_mean) && isnan(c->b.plain_mean));
    ck_assert(c->low < c->difference && c->difference < c->high);
    ck_assert_double_gt(c->low, 40);
    ck_assert_double_lt(c->high, 120);
    /* Every ground one went further than every other: the most extreme of 70, and its mirror. */
    ck_assert_double_eq_tol(c->permutation.chance, 2.0 / 70, 1e-12);
    ck_assert_double_eq_tol(c->smallest, 2.0 / 70, 1e-12);
    ck_assert(c->permutation.ranks);
    comparison_list_free(&list);
    frame_free(&f);
}
END_TEST

START_TEST(a_number_with_many_values_is_cut_in_the_middle)
{
    struct comparison_list list;
    struct frame f;
    struct error e;

    make(&f);
    ck_assert_int_eq(compare_variable(&f, 1, 1, &list, &e), 0);
    ck_assert_uint_eq(list.count, 1);
    /* 16 17 18 18 18 19 20 21: the middle falls among the 18s; before them is as near as behind. */
    ck_assert_uint_eq(list.items[0].a.count + list.items[0].b.count, 8);
    ck_assert_str_eq(list.items[0].a.label, "16 to 18 V");
    ck_assert_str_eq(list.items[0].b.label, "19 to 21 V");
    comparison_list_free(&list);
    frame_free(&f);
}
END_TEST

START_TEST(three_levels_give_three_pairs_and_six_give_five)
{
    const char *const names[] = {"a", "b", "c", "d", "e", "f"};

    for (size_t levels = 3; levels <= 6; levels += 3) {
        struct comparison_list list;
        struct frame f;
        struct error e;

        frame_init(&f, "bend_angle", "Bend angle", "°", 180);
        frame_add_column(&f, "wire", "Wire", "", true);
        for (size_t i = 0; i < 2 * levels + 1; i++) /* one coupon more of c than of the others */
            frame_set_level(&f, frame_add_row(&f, "m", measure_exact(40 + 7.5 * (double)i)), 0,
                            names[i < 2 * levels ? i % levels : 2]);
        ck_assert_int_eq(compare_variable(&f, 0, 1, &list, &e), 0);
        ck_assert_uint_eq(list.count, levels == 3 ? 3 : 5);
        for (size_t i = 0; i < list.count; i++)
            ck_assert_str_eq(list.items[i].a.label, levels == 6 ? "c" : i < 2 ? "a" : "b");
        ck_assert_str_eq(list.items[0].b.label, levels == 6 ? "a" : "b");
        comparison_list_free(&list);
        frame_free(&f);
    }
}
END_TEST

/* Up to four values every pair, above each against the commonest. */
START_TEST(pairs_by_number_of_levels)
{
    static const size_t pairs[] = {1, 3, 6, 4};
    char name[2] = "a";

    for (size_t levels = 2; levels <= 5; levels++) {
        struct comparison_list list;
        struct frame f;
        struct error e;

        frame_init(&f, "bend_angle", "Bend angle", "°", 180);
        frame_add_column(&f, "wire", "Wire", "", true);
        for (size_t i = 0; i < 2 * levels; i++) {
            name[0] = (char)('a' + i % levels);
            frame_set_level(&f, frame_add_row(&f, "m", measure_exact(40 + (double)(i * i))), 0,
                            name);
        }
        ck_assert_int_eq(compare_variable(&f, 0, 1, &list, &e), 0);
        ck_assert_uint_eq(list.count, pairs[levels - 2]);
        ck_assert_str_eq(list.items[0].a.label, "a"); /* of as many the first */
        comparison_list_free(&list);
        frame_free(&f);
    }
}
END_TEST

/* A number of five values is cut where two of them meet, nearest to the middle; of two as near the
 * lower, and never at an end. */
START_TEST(cuts_of_a_number)
{
    static const struct {
        double v[11];
        size_t n;
        const char *a, *b;
    } cuts[] = {{{1, 2, 2, 2, 3, 4, 5}, 7, "1 to 2", "3 to 5"},
                {{1, 2, 3, 3, 3, 3, 4, 5}, 8, "1 to 2", "3 to 5"},
                {{1, 1, 1, 1, 1, 2, 3, 4, 5}, 9, "1", "2 to 5"},
                {{1, 2, 3, 4, 5, 5, 5, 5, 5, 5}, 10, "1 to 4", "5"},
                {{1, 2, 3, 4, 5, 6}, 6, "1 to 3", "4 to 6"}};

    for (size_t i = 0; i < sizeof cuts / sizeof *cuts; i++) {
        struct comparison_list list;
        struct frame f;
        struct error e;

        frame_init(&f, "bend_angle", "Bend angle", "°", 180);
        frame_add_column(&f, "passes", "Passes", "", false);
        for (size_t j = 0; j < cuts[i].n; j++)
            frame_set_number(&f, frame_add_row(&f, "m", measure_exact(40 + (double)(j * j))), 0,
                             cuts[i].v[j]);
        /* neither a value without a result nor a result without a value counts */
        frame_set_number(&f, frame_add_row(&f, "m", measure_missing()), 0, 9);
        frame_add_row(&f, "m", measure_exact(33));
        ck_assert_int_eq(compare_variable(&f, 0, 1, &list, &e), 0);
        ck_assert_uint_eq(list.count, 1);
        ck_assert_str_eq(list.items[0].a.label, cuts[i].a);
        ck_assert_str_eq(list.items[0].b.label, cuts[i].b);
        ck_assert_uint_eq(list.items[0].a.count + list.items[0].b.count, cuts[i].n);
        comparison_list_free(&list);
        frame_free(&f);
    }
}
END_TEST

/*
 * a<-c(35,42,55,50,61); b<-c(70,48,90,66); t.test(b, a, var.equal=TRUE, conf.level=.9) in GNU R
 * for the plain figures. With every result exact the fit is that of ridge regression: the
 * difference drawn toward 0 by 5·4/9 over 5·4/9 + 1/4, the mean of all as it is.
 */
START_TEST(exact_results_by_hand)
{
    static const double angle[9] = {35, 42, 55, 50, 61, 70, 48, 90, 66};
    const size_t a[] = {0, 1, 2, 3, 4}, b[] = {5, 6, 7, 8};
    struct comparison c;
    struct frame f;
    struct error e;

    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    for (int i = 0; i < 9; i++)
        frame_add_row(&f, "m", measure_exact(angle[i]));
    ck_assert_int_eq(compare_groups(&f, a, 5, "a", b, 4, "b", 1, &c, &e), 0);
    ck_assert_double_eq_tol(c.plain, 19.9, 1e-9);
    ck_assert_double_eq_tol(c.plain_low, 2.4726718549, 1e-8);
    ck_assert_double_eq_tol(c.plain_high, 37.3273281451, 1e-8);
    ck_assert_double_eq_tol(c.difference, 19.9 * (20.0 / 9) / (20.0 / 9 + 0.25), 1e-4);
    ck_assert_double_eq_tol(c.difference, c.b.mean - c.a.mean, 1e-9);
    ck_assert_double_eq_tol(5 * c.a.mean + 4 * c.b.mean, 517, 1e-3);
    ck_assert_uint_eq(c.a.broke + c.b.broke, 9);
    ck_assert(c.scatter > 5 && c.scatter < 25);
    comparison_free(&c);
    /* Two coupons have no scatter of their own; three have. */
    ck_assert_int_eq(compare_groups(&f, a, 1, "a", b, 1, "b", 1, &c, &e), 0);
    ck_assert_double_eq(c.plain, 35);
    ck_assert(isnan(c.plain_low) && isnan(c.plain_high));
    comparison_free(&c);
    ck_assert_int_eq(compare_groups(&f, a, 2, "a", b, 1, "b", 1, &c, &e), 0);
    ck_assert(isfinite(c.plain_low) && isfinite(c.plain_high));
    comparison_free(&c);
    frame_free(&f);
}
END_TEST

START_TEST(what_cannot_be_compared_is_refused_with_a_reason)
{
    const size_t a[] = {0, 1}, b[] = {1, 2}, none[] = {8};
    struct comparison c;
    struct frame f;
    struct error e = {0};

    make(&f);
    ck_assert_int_lt(compare_groups(&f, a, 2, "a", b, 2, "b", 1, &c, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_int_lt(compare_groups(&f, a, 2, "a", none, 1, "b", 1, &c, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_int_lt(compare_groups(&f, a, 2, "a", NULL, 0, "b", 1, &c, &e), 0);
    frame_free(&f);
}
END_TEST

START_TEST(all_held_and_all_equal_still_stand)
{
    const size_t a[] = {0, 1}, b[] = {2, 3};
    struct comparison c;
    struct frame f;
    struct error e;

    for (int held = 0; held < 2; held++) {
        frame_init(&f, "bend_angle", "Bend angle", "°", 180);
        for (int i = 0; i < 4; i++)
            frame_add_row(&f, "m", held ? measure_at_least(135) : measure_exact(80));
        ck_assert_int_eq(compare_groups(&f, a, 2, "a", b, 2, "b", 1, &c, &e), 0);
        ck_assert(isnan(c.difference) && isnan(c.low));
        ck_assert_double_eq(c.permutation.chance, 1);
        comparison_free(&c);
        frame_free(&f);
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/compare");
    TCase *t = tcase_create("compare");

    tcase_add_test(t, two_levels_side_by_side);
    tcase_add_test(t, a_number_with_many_values_is_cut_in_the_middle);
    tcase_add_test(t, three_levels_give_three_pairs_and_six_give_five);
    tcase_add_test(t, pairs_by_number_of_levels);
    tcase_add_test(t, cuts_of_a_number);
    tcase_add_test(t, exact_results_by_hand);
    tcase_add_test(t, what_cannot_be_compared_is_refused_with_a_reason);
    tcase_add_test(t, all_held_and_all_equal_still_stand);
    suite_add_tcase(s, t);
    return s;
}
