/* Duty cycle. */
#include "run.h"

#include <math.h>

#include "weld/duty.h"

static struct duty at(double rated, double rated_amps, double amps)
{
    return duty_at_current((struct percent){rated}, (struct ampere){rated_amps},
                           (struct ampere){amps});
}

/* Manual 0-2510 of a 400 A power source, section 2.06 p. 21: rated 400 A at 25 %,
 * wanted 50 %: 282.8 A. */
START_TEST(manual_example)
{
    ck_assert_double_eq_tol(at(25, 400, 282.8).share.v, 50, 0.02);
    ck_assert_double_eq_tol(at(25, 400, 400 * sqrt(0.25 / 0.5)).share.v, 50, 1e-12);
}
END_TEST

/* Manual OM-474 p. 11 rates one source twice, 60 % at 350 A and 100 % at 300 A: the square law from
 * the first gives 271 A for 100 %, on the safe side of the plate. */
START_TEST(the_square_law_stays_below_a_rating_plate)
{
    double full = duty_full_current((struct percent){60}, (struct ampere){350}).v;

    ck_assert_double_eq_tol(full, 271.1, 0.05);
    ck_assert(full < 300);
    ck_assert_double_eq_tol(at(60, 350, full).share.v, 100, 1e-9);
}
END_TEST

/* Manual 0-5287 p. 2-3: 40 % means four minutes of arc and six idle. American Welding Society,
 * glossary, "duty cycle": 300 A at 60 % is six minutes out of every ten. */
START_TEST(ten_minutes_are_the_period)
{
    struct duty_span four = {0, 240}, six = {0, 360};

    ck_assert_double_eq_tol(duty_worst(&four, 1).share.v, 40, 1e-12);
    ck_assert_double_eq_tol(duty_worst(&six, 1).share.v, 60, 1e-12);
    ck_assert_double_eq_tol(duty_last(&six, 1, 600).share.v, 60, 1e-12);
    ck_assert_double_eq_tol(duty_last(&six, 1, 900).share.v, 10, 1e-12);
}
END_TEST

static double slow_worst(const struct duty_span *s, size_t n, double until)
{
    double most = 0, from, at_s;
    size_t i;

    for (from = -DUTY_WINDOW_S; from < until; from++) {
        double arc = 0;

        for (at_s = from + 0.5; at_s < from + DUTY_WINDOW_S; at_s++)
            for (i = 0; i < n; i++)
                arc += at_s > s[i].from_s && at_s < s[i].to_s;
        most = fmax(most, arc);
    }
    return 100 * most / DUTY_WINDOW_S;
}

/* Against the obvious slow way, second by second. */
START_TEST(sliding_window)
{
    const struct duty_span log[] = {{1300, 1500}, {0, 90},    {200, 260},
                                    {500, 700},   {705, 715}, {900, 1200}};
    struct duty d = duty_worst(log, 6);

    ck_assert_double_eq_tol(d.share.v, slow_worst(log, 6, 1600), 1e-9);
    ck_assert(d.share.v >= duty_last(log, 6, 1500).share.v);
}
END_TEST

START_TEST(a_long_arc_is_full)
{
    struct duty_span s = {0, 5000};

    ck_assert_double_eq_tol(duty_worst(&s, 1).share.v, 100, 1e-12);
    ck_assert_double_eq_tol(duty_worst(NULL, 0).share.v, 0, 1e-12);
}
END_TEST

START_TEST(outside_the_range_it_says_so)
{
    const struct duty_span overlap[] = {{0, 10}, {5, 20}}, backward[] = {{10, 0}};

    ck_assert(isnan(duty_worst(overlap, 2).share.v));
    ck_assert_ptr_nonnull(duty_last(backward, 1, 20).outside);
    ck_assert(isnan(at(0, 100, 100).share.v));
    ck_assert(isnan(at(60, 100, 0).share.v));
    ck_assert_ptr_nonnull(at(60, 200, 250).outside);
    ck_assert_double_eq_tol(at(60, 200, 250).share.v, 38.4, 1e-9);
    ck_assert_double_eq(at(60, 200, 20).share.v, 100);
}
END_TEST

START_TEST(more_current_less_time)
{
    double i;

    for (i = 160; i < 400; i += 10)
        ck_assert(at(60, 200, i + 10).share.v < at(60, 200, i).share.v);
}
END_TEST

START_TEST(zero_is_outside)
{
    struct percent rated = {60}, none = {0}, over = {101};
    struct ampere amps = {200}, nothing = {0};

    ck_assert(isnan(duty_at_current(none, amps, amps).share.v));
    ck_assert(isnan(duty_at_current(over, amps, amps).share.v));
    ck_assert(isnan(duty_at_current(rated, nothing, amps).share.v));
    ck_assert(isnan(duty_at_current(rated, amps, nothing).share.v));
    ck_assert(isnan(duty_full_current(none, amps).v));
    ck_assert(isnan(duty_full_current(over, amps).v));
    ck_assert(isnan(duty_full_current(rated, nothing).v));
}
END_TEST

/* A rating of 100 % at its own current, and passes that touch or take no time, are within. */
START_TEST(the_edges_are_within)
{
    const struct duty_span touching[] = {{10, 30}, {0, 10}, {30, 30}};

    ck_assert_double_eq(at(100, 200, 200).share.v, 100);
    ck_assert_ptr_null(at(100, 200, 200).outside);
    ck_assert_double_eq(duty_full_current((struct percent){100}, (struct ampere){200}).v, 200);
    ck_assert_double_eq_tol(duty_worst(touching, 3).share.v, 5, 1e-12);
    ck_assert_double_eq_tol(duty_last(touching, 3, 20).share.v, 100 * 20 / 600.0, 1e-12);
    ck_assert_ptr_nonnull(at(60, 200, 0).outside);
    ck_assert_ptr_nonnull(at(60, 0, 200).outside);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/duty");
    TCase *t = tcase_create("duty");

    tcase_add_test(t, manual_example);
    tcase_add_test(t, the_square_law_stays_below_a_rating_plate);
    tcase_add_test(t, ten_minutes_are_the_period);
    tcase_add_test(t, sliding_window);
    tcase_add_test(t, a_long_arc_is_full);
    tcase_add_test(t, outside_the_range_it_says_so);
    tcase_add_test(t, more_current_less_time);
    tcase_add_test(t, zero_is_outside);
    tcase_add_test(t, the_edges_are_within);
    suite_add_tcase(s, t);
    return s;
}
