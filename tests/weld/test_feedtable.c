/* The calibration of a wire feed dial. */
#include "run.h"

#include <math.h>

#include "weld/feedtable.h"

static struct feed_point point(double dial, double feed, double error)
{
    return (struct feed_point){dial, {feed}, {error}};
}

START_TEST(points_come_back)
{
    struct feed_point list[] = {point(6, 300, 9), point(2, 100, 5), point(4, 200, 7)};
    size_t n = feed_table_sort(list, 3), i;

    ck_assert_uint_eq(n, 3);
    for (i = 0; i < n; i++) {
        ck_assert_double_eq_tol(feed_table_at(list, n, list[i].dial).feed.v, list[i].feed.v, 1e-12);
        ck_assert_double_eq_tol(feed_table_at(list, n, list[i].dial).error.v, list[i].error.v,
                                1e-12);
    }
}
END_TEST

/* Straight between the points; the ± of the middle of two equal ones is u/√2 where the points lie
 * on a line. */
START_TEST(between_the_points)
{
    struct feed_point list[] = {point(2, 100, 5), point(4, 200, 5), point(6, 300, 5)};
    struct feed_answer a = feed_table_at(list, 3, 3);

    ck_assert_double_eq_tol(a.feed.v, 150, 1e-12);
    ck_assert_double_eq_tol(a.error.v, 5 / sqrt(2), 1e-12);
    ck_assert_ptr_null(a.outside);
}
END_TEST

/* Points of y = x²: the line between 2 and 4 lies above the parabola by w(1−w)/2·h²·f″ = 1 in the
 * middle, and the ± says exactly that when the points themselves are exact. */
START_TEST(a_bend_widens_the_answer)
{
    struct feed_point list[] = {point(2, 4, 0), point(4, 16, 0), point(6, 36, 0), point(8, 64, 0)};
    struct feed_answer a = feed_table_at(list, 4, 3);
    double x;

    ck_assert_double_eq_tol(a.feed.v - 9, 1, 1e-12);
    ck_assert_double_eq_tol(a.error.v, 1, 1e-12);
    for (x = 2; x <= 8; x += 0.25)
        ck_assert(fabs(feed_table_at(list, 4, x).feed.v - x * x) <=
                  feed_table_at(list, 4, x).error.v + 1e-9);
}
END_TEST

/* Repeats: mean, and the larger of u/√n and the standard error of their spread. 98, 102: mean 100,
 * s = 2.83, s/√2 = 2. */
START_TEST(repeats_are_folded)
{
    struct feed_point list[] = {point(2, 98, 1), point(4, 200, 5), point(2, 102, 1)};
    size_t n = feed_table_sort(list, 3);

    ck_assert_uint_eq(n, 2);
    ck_assert_double_eq_tol(list[0].feed.v, 100, 1e-12);
    ck_assert_double_eq_tol(list[0].error.v, 2, 1e-12);
}
END_TEST

/* Run of 6 s, 900 mm, rule ±0.5 mm, watch ±0.2 s: 9 m/min ± 0.30. */
START_TEST(a_timed_run)
{
    struct feed_point p = feed_point_usual(3, (struct mm_per_min){9000});

    ck_assert_double_eq(p.dial, 3);
    ck_assert_double_eq_tol(p.feed.v, 9000, 1e-9);
    ck_assert_double_eq_tol(p.error.v, 9000 * hypot(0.5 / 900, 0.2 / 6), 1e-9);
    ck_assert_double_eq_tol(p.error.v, 300, 0.5);
}
END_TEST

START_TEST(nothing_is_said_beyond)
{
    struct feed_point list[] = {point(2, 100, 5), point(4, 200, 5)};

    ck_assert_ptr_nonnull(feed_table_at(list, 2, 1.9).outside);
    ck_assert_ptr_nonnull(feed_table_at(list, 2, 4.1).outside);
    ck_assert_ptr_nonnull(feed_table_at(list, 1, 2).outside);
    ck_assert_ptr_nonnull(feed_table_at(list, 2, NAN).outside);
    ck_assert(isnan(feed_table_at(list, 2, 9).feed.v));
    ck_assert_double_eq_tol(feed_table_at(list, 2, 4).feed.v, 200, 1e-12);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/feedtable");
    TCase *t = tcase_create("feedtable");

    tcase_add_test(t, points_come_back);
    tcase_add_test(t, between_the_points);
    tcase_add_test(t, a_bend_widens_the_answer);
    tcase_add_test(t, repeats_are_folded);
    tcase_add_test(t, a_timed_run);
    tcase_add_test(t, nothing_is_said_beyond);
    suite_add_tcase(s, t);
    return s;
}
