/*
 * Share still unbroken and log-rank, on the leukaemia remission times of E. J. Freireich et al.,
 * Blood 21:699, 1963, as used by E. A. Gehan 1965 and carried as `gehan` in the R package MASS.
 */
#include "run.h"

#include <math.h>

#include "stats/compare/survival.h"

enum { N = 21 };

static const double control_weeks[N] = {1, 1, 2,  2,  3,  4,  4,  5,  5,  8, 8,
                                        8, 8, 11, 11, 12, 12, 15, 17, 22, 23};
static const double treated_weeks[N] = {6,   6,   6,   -6, 7,  -9,  10,  -10, -11, 13, 16,
                                        -17, -19, -20, 22, 23, -25, -32, -32, -34, -35};

static void fill(const double *weeks, struct measure *y)
{
    for (int i = 0; i < N; i++)
        y[i] = weeks[i] > 0 ? measure_exact(weeks[i]) : measure_at_least(-weeks[i]);
}

/* Product-limit figures of the treated group as printed in D. R. Cox and D. Oakes, Analysis of
 * Survival Data, 1984, ch. 4 (from memory; agrees with survfit in GNU R). */
START_TEST(steps_are_the_published_ones)
{
    const double at[] = {6, 7, 10, 13, 16, 22, 23};
    const size_t risk[] = {21, 17, 15, 12, 11, 7, 6};
    const double share[] = {0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448};
    struct measure y[N];
    struct survival s;

    fill(treated_weeks, y);
    survival_steps(y, N, &s);
    ck_assert_uint_eq(s.step_count, 7);
    for (size_t i = 0; i < 7; i++) {
        ck_assert_double_eq(s.steps[i].at, at[i]);
        ck_assert_uint_eq(s.steps[i].risk, risk[i]);
        ck_assert_uint_eq(s.steps[i].broke, i == 0 ? 3 : 1);
        ck_assert_double_eq_tol(s.steps[i].share, share[i], 0.0005);
        ck_assert(s.steps[i].low < share[i] && share[i] < s.steps[i].high);
    }
    /* By hand: at the first step Greenwood's sum is 3 / (21 × 18), so the limits are
     * (18/21)^exp(±1.644854 √(1/126) / 0.1541507). */
    ck_assert_double_eq_tol(s.steps[0].low, 0.671107, 1e-5);
    ck_assert_double_eq_tol(s.steps[0].high, 0.942159, 1e-5);
    /* the last: survfit(conf.type = "log-log", conf.int = 0.9) in GNU R */
    ck_assert_double_eq_tol(s.steps[6].share, 0.4481792717, 1e-9);
    ck_assert_double_eq_tol(s.steps[6].low, 0.2264620882, 1e-9);
    ck_assert_double_eq_tol(s.steps[6].high, 0.6481135841, 1e-9);
    survival_free(&s);
}
END_TEST

/* survival::survdiff in GNU R on MASS gehan: chi-square 16.79 on 1 degree of freedom; observed 21
 * and 9, expected 10.7 and 19.3. Hypergeometric variance. */
START_TEST(log_rank_is_the_published_one)
{
    struct measure a[N], b[N];
    struct log_rank r;

    fill(control_weeks, a);
    fill(treated_weeks, b);
    survival_log_rank(a, N, b, N, &r);
    ck_assert_double_eq_tol(r.chi_square, 16.79, 0.005);
    ck_assert_double_eq_tol(r.chance, 4.17e-5, 5e-8);
    ck_assert_double_eq(r.a_broke, 21);
    ck_assert_double_eq_tol(r.a_expected, 10.7, 0.06);
}
END_TEST

/* survdiff(Surv(t, s) ~ g) of survival in GNU R: t = 30, 60, 60 held, 80 against 50, 90, 100, 100
 * held; and with the last coupon broken alone: 30, 60, 80 against 50, 90. */
START_TEST(log_rank_of_few_as_in_r)
{
    struct measure a[] = {measure_exact(30), measure_exact(60), measure_exact(80),
                          measure_at_least(60)};
    struct measure b[] = {measure_exact(50), measure_exact(90), measure_exact(100),
                          measure_at_least(100)};
    struct log_rank r;

    survival_log_rank(a, 4, b, 4, &r);
    ck_assert_double_eq(r.a_broke, 3);
    ck_assert_double_eq_tol(r.a_expected, 1.67857142857, 1e-9);
    ck_assert_double_eq_tol(r.variance, 0.932397959184, 1e-9);
    ck_assert_double_eq_tol(r.chi_square, 1.87277701778, 1e-9);
    survival_log_rank(a, 3, b, 2, &r);
    ck_assert_double_eq_tol(r.a_expected, 2.26666666667, 1e-9);
    ck_assert_double_eq_tol(r.variance, 0.962222222222, 1e-9);
    ck_assert_double_eq_tol(r.chance, 0.454707237303, 1e-9);
}
END_TEST

START_TEST(edges)
{
    struct measure held[2] = {measure_at_least(135), measure_at_least(135)};
    struct measure broke[2] = {measure_exact(30), measure_exact(60)};
    struct survival s;
    struct log_rank r;

    survival_steps(held, 2, &s);
    ck_assert_uint_eq(s.step_count, 0);
    survival_free(&s);
    survival_steps(broke, 2, &s);
    ck_assert_double_eq(s.steps[1].share, 0);
    ck_assert(isnan(s.steps[1].low) && isnan(s.steps[1].high));
    survival_free(&s);
    survival_steps(NULL, 0, &s);
    ck_assert_uint_eq(s.step_count, 0);
    survival_free(&s);
    survival_log_rank(held, 2, held, 2, &r);
    ck_assert(isnan(r.chi_square) && isnan(r.chance));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/survival");
    TCase *t = tcase_create("survival");

    tcase_add_test(t, steps_are_the_published_ones);
    tcase_add_test(t, log_rank_is_the_published_one);
    tcase_add_test(t, log_rank_of_few_as_in_r);
    tcase_add_test(t, edges);
    suite_add_tcase(s, t);
    return s;
}
