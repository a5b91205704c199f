/*
 * The normal distribution. Φ(x) at 0, ±1, ±1.96 and in the tail: M. Abramowitz, I. A. Stegun,
 * Handbook of Mathematical Functions (NBS 1964), table 26.1 (15 digits) and 26.2 (−log10 of the
 * tail, 5 decimals), quoted from memory; R's pnorm(log.p = TRUE) is compared in oracle_engine.R.
 */
#include "run.h"

#include <math.h>

#include "stats/num/guard.h"
#include "stats/num/normal.h"

START_TEST(handbook_values)
{
    ck_assert_double_eq_tol(exp(normal_log_cdf(0)), 0.5, 1e-15);
    ck_assert_double_eq_tol(exp(normal_log_cdf(1)), 0.841344746068543, 1e-14);
    ck_assert_double_eq_tol(exp(normal_log_cdf(-1)), 0.158655253931457, 1e-14);
    ck_assert_double_eq_tol(exp(normal_log_cdf(2)), 0.977249868051821, 1e-14);
    ck_assert_double_eq_tol(-normal_log_cdf(-5) / M_LN10, 6.54265, 5e-6);
    ck_assert_double_eq_tol(-normal_log_cdf(-10) / M_LN10, 23.11805, 5e-6);
    ck_assert_double_eq_tol(-normal_log_cdf(-100) / M_LN10, 2173.87154, 5e-6);
}
END_TEST

/* φ(x)/Φ(x) lies between −x and −x + 1/−x for x < 0 (R. D. Gordon, Ann. Math. Stat. 12:364, 1941).
 */
START_TEST(the_ratio_stays_within_its_bounds)
{
    for (double x = -0.5; x > -1e8; x *= 1.3) {
        double ratio = normal_ratio(x);

        ck_assert_double_ge(ratio, -x);
        ck_assert_double_le(ratio, (-x - 1 / x) * (1 + 1e-15));
        ck_assert(isfinite(normal_log_cdf(x)));
    }
    ck_assert_double_eq(normal_ratio(50), 0);
}
END_TEST

/* The derivative of log Φ is the ratio, on both sides of the places where the formula changes. */
START_TEST(the_ratio_is_the_slope)
{
    static const double places[] = {-200, -38, -5.0005, -4.9995, -1, -1e-3, 1e-3, 1, 6};

    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        double x = places[i], step = 1e-4;
        double slope = (normal_log_cdf(x + step) - normal_log_cdf(x - step)) / (2 * step);

        ck_assert_double_eq_tol(slope, normal_ratio(x), 1e-7 * fmax(1, fabs(x)));
    }
}
END_TEST

START_TEST(between_is_the_difference)
{
    static const double ends[][2] = {{-1, 1}, {0.5, 2}, {-3, -2.5}, {-0.2, 0.3}, {-4, 5}};

    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        double l = ends[i][0], u = ends[i][1];
        double plain = 0.5 * erfc(-u / sqrt(2)) - 0.5 * erfc(-l / sqrt(2));

        ck_assert_double_eq_tol(normal_log_between(l, u), log(plain), 1e-13);
        ck_assert_double_eq_tol(normal_log_between(-u, -l), log(plain), 1e-13);
    }
}
END_TEST

START_TEST(between_holds_out_far_and_narrow)
{
    /* far out the upper limit is all there is; very narrow ones are density times width */
    ck_assert_double_eq_tol(normal_log_between(-45, -40), normal_log_cdf(-40), 1e-12);
    ck_assert_double_eq_tol(normal_log_between(40, 45), normal_log_cdf(-40), 1e-12);
    ck_assert_double_eq_tol(normal_log_between(1, 1 + 1e-9), normal_log_density(1) + log(1e-9),
                            1e-7);
    for (double x = -30; x <= 30; x += 7.5) { /* no step where the formula changes */
        double narrow = normal_log_between(x - 4.999e-5, x + 4.999e-5) - log(9.998e-5);
        double wide = normal_log_between(x - 5.001e-5, x + 5.001e-5) - log(1.0002e-4);

        ck_assert_double_eq_tol(narrow, wide, 1e-8 * fmax(1, x * x));
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/normal");
    TCase *t = tcase_create("normal");

    guard_start();
    tcase_add_test(t, handbook_values);
    tcase_add_test(t, the_ratio_stays_within_its_bounds);
    tcase_add_test(t, the_ratio_is_the_slope);
    tcase_add_test(t, between_is_the_difference);
    tcase_add_test(t, between_holds_out_far_and_narrow);
    suite_add_tcase(s, t);
    return s;
}
