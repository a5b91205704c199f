/* Carrying the ± of readings. */
#include "run.h"

#include <math.h>

#include "weld/uncertainty.h"

static void product(const double *x, double *y, void *context)
{
    (void)context;
    y[0] = x[0] * x[1] / x[2];
    y[1] = x[0] + x[1];
    y[2] = x[1] >= 10 ? sqrt(x[1] - 10) : NAN;
}

/* JCGM 100:2008 5.1.6: for a product of powers the relative ± add in squares. */
START_TEST(relative_errors_add_in_squares)
{
    const double x[] = {20, 300, 2.5}, u[] = {0.5, 6, 0.02};
    double out[3];

    uncertainty_carry(product, NULL, x, u, 3, out, 3);
    ck_assert_double_eq_tol(
        out[0], 2400 * sqrt(pow(0.5 / 20, 2) + pow(6 / 300.0, 2) + pow(0.02 / 2.5, 2)), 0.1);
    ck_assert_double_eq_tol(out[1], hypot(0.5, 6), 1e-9);
}
END_TEST

/* By hand: a product of readings good to 2 % and 3 % is good to √13 = 3.6 %. */
START_TEST(two_and_three_per_cent)
{
    const double x[] = {100, 100, 1}, u[] = {2, 3, 0};
    double out[3];

    uncertainty_carry(product, NULL, x, u, 3, out, 3);
    ck_assert_double_eq_tol(out[0] / 1e4, sqrt(13) / 100, 1e-9);
}
END_TEST

/* At the edge of a range the change is taken on the side that can be said. */
START_TEST(one_sided_at_an_edge)
{
    const double x[] = {1, 10, 1}, u[] = {0, 4, 0};
    double out[3];

    uncertainty_carry(product, NULL, x, u, 3, out, 3);
    ck_assert_double_eq_tol(out[2], 2, 1e-12);
}
END_TEST

START_TEST(no_reading_error_no_statement)
{
    const double x[] = {1, 5, 1}, none[] = {0, 0, NAN}, some[] = {0, 1, 0};
    double out[3];

    uncertainty_carry(product, NULL, x, none, 3, out, 3);
    ck_assert(isnan(out[0]));
    uncertainty_carry(product, NULL, x, some, 3, out, 3);
    ck_assert(isnan(out[2])); /* the figure itself cannot be said */
    ck_assert_double_eq_tol(out[0], 1, 1e-12);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/uncertainty");
    TCase *t = tcase_create("uncertainty");

    tcase_add_test(t, relative_errors_add_in_squares);
    tcase_add_test(t, two_and_three_per_cent);
    tcase_add_test(t, one_sided_at_an_edge);
    tcase_add_test(t, no_reading_error_no_statement);
    suite_add_tcase(s, t);
    return s;
}
