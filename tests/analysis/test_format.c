/* Numbers, levels and names as the answers put them. */
#include "run.h"

#include <math.h>

#include "analysis/format.h"

static struct frame f;

static void setup(void)
{
    frame_init(&f, "bend_angle", "Bend angle", "", 180);
    f.result_shown = unit_shown(DIM_ANGLE, UNITS_METRIC);
}

static void teardown(void)
{
    frame_free(&f);
}

/* A result without a unit. */
static void bare(void)
{
    f.result_shown = NULL;
}

START_TEST(the_range_decides_the_decimals)
{
    ck_assert_str_eq(format_result(&f, 180, 41.4).s, "41°");
    ck_assert_str_eq(format_result(&f, 32, 41.44).s, "41°");
    ck_assert_str_eq(format_result(&f, 31, 41.44).s, "41.4°");
    ck_assert_str_eq(format_result(&f, 3.1, 41.444).s, "41.44°");
    ck_assert_str_eq(format_result(&f, 1e6, 41.4).s, "41°");
    ck_assert_str_eq(format_result(&f, 180, NAN).s, "–");
    ck_assert_str_eq(format_signed_change(&f, 180, NAN).s, "–");
}
END_TEST

START_TEST(a_sign_stands_only_where_it_says_something)
{
    ck_assert_str_eq(format_change(&f, 180, 57.6).s, "58°");
    ck_assert_str_eq(format_change(&f, 180, -57.6).s, "-58°");
    ck_assert_str_eq(format_signed_change(&f, 180, 57.6).s, "+58°");
    ck_assert_str_eq(format_signed_change(&f, 180, -57.6).s, "-58°");
    ck_assert_str_eq(format_signed_change(&f, 180, 0.4).s, "0°");
    ck_assert_str_eq(format_signed_change(&f, 180, -0.4).s, "0°");
    ck_assert_str_eq(format_signed_change(&f, 3, -0.001).s, "0.00°");
    ck_assert_str_eq(format_range(&f, 180, -36.2, 55).s, "-36 … +55°");
}
END_TEST

/* A thirtieth of the range as shown is as wide as an interval may be before it takes decimals. */
START_TEST(a_narrow_interval_has_finer_decimals)
{
    ck_assert_double_eq_tol(format_fine_range(180, 2, 3), 30, 1e-12);
    ck_assert_double_eq_tol(format_fine_range(180, -0.1, 0.1), 6, 1e-12);
    ck_assert_double_eq_tol(format_fine_range(180, 2, 8), 180, 1e-12);
    ck_assert_double_eq_tol(format_fine_range(180, 2, 9), 180, 1e-12);
    ck_assert_double_eq_tol(format_fine_range(180, 2, 2), 180, 1e-12);
    ck_assert_double_eq_tol(format_fine_range(180, NAN, NAN), 180, 1e-12);
    ck_assert_str_eq(format_range(&f, 180, 2.04, 3.04).s, "+2.0 … +3.0°");
}
END_TEST

START_TEST(beyond_decimals_three_figures_are_left)
{
    bare();
    ck_assert_str_eq(format_result(&f, 1e-7, 2e-8).s, "0.000000020");
    ck_assert_str_eq(format_result(&f, 0.9e-7, 2e-8).s, "2e-08");
    ck_assert_str_eq(format_result(&f, 0, 2.5).s, "2.5");
    ck_assert_str_eq(format_result(&f, 180, 999999999999999).s, "999999999999999");
    ck_assert_str_eq(format_result(&f, 180, 1e15).s, "1e+15");
    ck_assert_str_eq(format_signed_change(&f, 180, -1e15).s, "-1e+15");
}
END_TEST

START_TEST(levels_carry_their_unit_and_a_step_carries_it_once)
{
    size_t heat, side, count;

    heat = frame_add_column(&f, "preheat", "Preheat", "", false);
    side = frame_add_column(&f, "sides", "Sides welded", "", true);
    count = frame_add_column(&f, "passes", "Passes", "", false);
    f.columns[heat].shown = unit_shown(DIM_TEMPERATURE, UNITS_METRIC);
    frame_add_row(&f, "01", measure_exact(40));
    frame_set_level(&f, 0, side, "one");
    frame_level(&f, side, "both");
    ck_assert_str_eq(format_level(&f, heat, 120).s, "120 °C");
    ck_assert_str_eq(format_level(&f, heat, NAN).s, "–");
    ck_assert_str_eq(format_level(&f, side, 1).s, "both");
    ck_assert_str_eq(format_level(&f, count, 3).s, "3");
    ck_assert_str_eq(format_step(&f, heat, 20, 120).s, "20 – 120 °C");
    ck_assert_str_eq(format_step(&f, side, 0, 1).s, "one – both");
    ck_assert_str_eq(format_level(&f, count, 123.456).s, "123.5");
}
END_TEST

START_TEST(labels_begin_small_inside_a_sentence_but_for_initials)
{
    ck_assert_str_eq(format_label("Sides welded").s, "sides welded");
    ck_assert_str_eq(format_label("Arc").s, "arc");
    ck_assert_str_eq(format_label("Zinc").s, "zinc");
    ck_assert_str_eq(format_label("CTWD").s, "CTWD");
    ck_assert_str_eq(format_label("U").s, "u");
    ck_assert_str_eq(format_label("gas").s, "gas");
}
END_TEST

/* Marks 1 to `count`, as they are named. */
static void assert_marks(size_t count, const char *expected)
{
    size_t rows[14];
    struct text s = {0};

    for (size_t i = 0; i < count; i++)
        rows[i] = i;
    format_add_marks(&f, rows, count, &s);
    ck_assert_str_eq(text_str(&s), expected);
    text_free(&s);
}

START_TEST(twelve_marks_are_named_and_the_rest_counted)
{
    static const char *const marks[] = {"1", "2", "3",  "4",  "5",  "6",  "7",
                                        "8", "9", "10", "11", "12", "13", "14"};

    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        frame_add_row(&f, marks[i], measure_exact(40));
    assert_marks(1, "1");
    assert_marks(2, "1 and 2");
    assert_marks(3, "1, 2 and 3");
    assert_marks(12, "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 12");
    assert_marks(13, "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 and 1 more");
    assert_marks(14, "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 and 2 more");
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("analysis/format");
    TCase *t = tcase_create("format");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, the_range_decides_the_decimals);
    tcase_add_test(t, a_sign_stands_only_where_it_says_something);
    tcase_add_test(t, a_narrow_interval_has_finer_decimals);
    tcase_add_test(t, beyond_decimals_three_figures_are_left);
    tcase_add_test(t, levels_carry_their_unit_and_a_step_carries_it_once);
    tcase_add_test(t, labels_begin_small_inside_a_sentence_but_for_initials);
    tcase_add_test(t, twelve_marks_are_named_and_the_rest_counted);
    suite_add_tcase(su, t);
    return su;
}
