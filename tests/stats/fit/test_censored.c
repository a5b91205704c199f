/*
 * The censored fit: gradient and curvature against differences of the likelihood, every kind of
 * result, and what must not change it. The figures themselves are compared with R in
 * oracle_engine.R.
 */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "stats/fit/censored.h"
#include "stats/fit/model_average.h"
#include "stats/num/guard.h"
#include "stats/num/normal.h"
#include "table.h"

struct fitted {
    struct model_matrix c;
    struct censored_data data;
    struct censored_fit fit;
    size_t columns[8];
    int status;
};

static void fit_table(const char *table, struct fitted *f)
{
    struct frame frame;
    struct error e = {0};
    struct censored_prior prior;
    struct censored_model model;

    memset(f, 0, sizeof *f);
    table_to_frame(table, 180, &frame);
    ck_assert_msg(model_matrix_make(&frame, &f->c, NULL, &e) == 0, "%s", e.text);
    censored_data_make(&f->c, &f->data);
    prior = (struct censored_prior){f->c.lambda, CENSORED_CA, CENSORED_CB};
    model = (struct censored_model){.columns = f->columns,
                                    .count = model_matrix_columns(&f->c, UINT64_MAX, f->columns)};
    f->status = censored_fit(&f->data, &prior, &model, false, &f->fit);
    frame_free(&frame);
}

static void fitted_free(struct fitted *f)
{
    model_matrix_free(&f->c);
    censored_data_free(&f->data);
    censored_fit_free(&f->fit);
}

/* Log posterior in (γ, log h), written down anew. */
static double posterior(const struct model_matrix *c, const double *theta)
{
    double h = exp(theta[c->p]), value = theta[c->p] - 0.25 * h * h;

    for (size_t j = 1; j < c->p; j++)
        value -= theta[j] * theta[j] / 8;
    for (size_t i = 0; i < c->n; i++) {
        const struct observation *y = &c->y[i];
        double eta = 0;

        for (size_t j = 0; j < c->p; j++)
            eta += c->x[i * c->p + j] * theta[j];
        if (y->kind == MEASURE_EXACT)
            value += log(h) + normal_log_density(h * y->low - eta);
        else if (y->kind == MEASURE_AT_LEAST)
            value += normal_log_cdf(eta - h * y->low);
        else if (y->kind == MEASURE_AT_MOST)
            value += normal_log_cdf(h * y->high - eta);
        else
            value += normal_log_between(h * y->low - eta, h * y->high - eta);
    }
    return value;
}

static const char *const tables[] = {
    "a,b,y\n0,3,40\n0,5,52\n1,4,90\n1,9,80\n0,6,35\n1,2,71\n",
    "a,b,y\n0,3,40\n0,5,90+\n1,4,90+\n1,9,80\n0,6,35\n1,2,71\n",
    "a,b,y\n0,3,40\n0,5,<=52\n1,4,90\n1,9,<=80\n0,6,35\n1,2,71\n",
    "a,b,y\n0,3,40\n0,5,20..60\n1,4,70..90\n1,9,80\n0,6,35\n1,2,71..71.0001\n",
    "a,b,y\n0,3,<=40\n0,5,20..60\n1,4,90+\n1,9,80\n0,6,35\n1,2,50..150\n",
    "a,b,y\n0,3,20..30\n0,5,20..60\n1,4,90+\n1,9,60..100\n0,6,10..40\n1,2,50..150\n",
};

START_TEST(the_maximum_is_one_and_the_curvature_is_right)
{
    struct fitted f;
    double theta[8], moved[8], step = 1e-4, top;
    size_t m;

    fit_table(tables[_i], &f);
    ck_assert_int_eq(f.status, 0);
    m = f.c.p + 1;
    memcpy(theta, f.fit.gamma, f.c.p * sizeof *theta);
    theta[f.c.p] = log(f.fit.h);
    top = posterior(&f.c, theta);
    ck_assert_double_eq_tol(top, f.fit.log_posterior, 1e-6);
    for (size_t i = 0; i < m; i++)
        for (size_t j = 0; j < m; j++) {
            double at[4];

            for (int k = 0; k < 4; k++) {
                memcpy(moved, theta, m * sizeof *moved);
                moved[i] += k & 1 ? step : -step;
                moved[j] += k & 2 ? step : -step;
                at[k] = posterior(&f.c, moved);
                ck_assert_double_le(at[k], top + 1e-9);
            }
            ck_assert_double_eq_tol((at[1] + at[2] - at[0] - at[3]) / (4 * step * step),
                                    f.fit.hessian[i * m + j],
                                    1e-4 * (1 + fabs(f.fit.hessian[i * m + j])));
        }
    ck_assert_int_le(f.fit.steps, 15);
    fitted_free(&f);
}
END_TEST

START_TEST(a_between_too_narrow_to_matter_is_an_exact_result)
{
    struct fitted f, g;

    fit_table("a,y\n0,40\n0,50\n1,90\n1,80\n", &f);
    fit_table("a,y\n0,40\n0,50\n1,90\n1,79.9999999..80.0000001\n", &g);
    ck_assert_double_eq_tol(f.fit.h, g.fit.h, 1e-6);
    ck_assert_double_eq_tol(f.fit.gamma[1], g.fit.gamma[1], 1e-6);
    fitted_free(&f);
    fitted_free(&g);
}
END_TEST

START_TEST(at_most_is_at_least_mirrored)
{
    struct fitted f, g;

    fit_table("a,y\n0,40\n0,50\n1,90+\n1,80\n", &f);
    fit_table("a,y\n0,140\n0,130\n1,<=90\n1,100\n", &g);
    ck_assert_double_eq_tol(f.fit.h, g.fit.h, 1e-9);
    ck_assert_double_eq_tol(f.fit.gamma[1], -g.fit.gamma[1], 1e-9);
    ck_assert_double_eq_tol(f.fit.log_evidence, g.fit.log_evidence, 1e-9);
    fitted_free(&f);
    fitted_free(&g);
}
END_TEST

/* Fixing a coefficient at its own maximum leaves the others where they were. */
START_TEST(a_fixed_coefficient_is_a_shift_of_the_results)
{
    struct fitted f;
    struct censored_fit held = {0};
    static const size_t columns[] = {0, 2};
    struct censored_prior prior;
    struct censored_model model = {.columns = columns, .count = 2, .column = 1};
    double by, lambda;

    fit_table(tables[4], &f);
    lambda = f.c.lambda[1];
    by = f.fit.gamma[1] / f.fit.h;
    model.by = by;
    /* the prior −½ λ (h b)² stays with b held */
    prior = (struct censored_prior){f.c.lambda, CENSORED_CA, CENSORED_CB + 0.5 * lambda * by * by};
    ck_assert_int_eq(censored_fit(&f.data, &prior, &model, false, &held), 0);
    ck_assert_double_eq_tol(held.h, f.fit.h, 1e-6);
    ck_assert_double_eq_tol(held.gamma[0], f.fit.gamma[0], 1e-6);
    ck_assert_double_eq_tol(held.gamma[1], f.fit.gamma[2], 1e-6);
    ck_assert_double_eq_tol(held.log_posterior, f.fit.log_posterior, 1e-9);
    censored_fit_free(&held);
    fitted_free(&f);
}
END_TEST

START_TEST(a_warm_start_ends_in_the_same_place)
{
    struct fitted f;
    struct censored_prior prior;
    struct censored_model model;
    double h;

    fit_table(tables[1], &f);
    h = f.fit.h;
    prior = (struct censored_prior){f.c.lambda, CENSORED_CA, CENSORED_CB};
    model = (struct censored_model){.columns = f.columns, .count = f.c.p};
    f.fit.h = 40; /* far off, and level and slopes do not fit it */
    ck_assert_int_eq(censored_fit(&f.data, &prior, &model, true, &f.fit), 0);
    ck_assert_double_eq_tol(f.fit.h, h, 1e-7);
    fitted_free(&f);
}
END_TEST

START_TEST(no_maximum_is_noticed)
{
    struct observation y[] = {{MEASURE_AT_LEAST, 1, INFINITY, 1},
                              {MEASURE_AT_LEAST, 2, INFINITY, 1}};
    double x[] = {1, 1}, lambda[] = {0};
    size_t columns[] = {0};
    struct model_matrix c = {.n = 2, .p = 1, .x = x, .y = y, .unit = 1};
    struct censored_data data;
    struct censored_fit fit = {0};
    struct censored_prior prior = {lambda, CENSORED_CA, CENSORED_CB};
    struct censored_model model = {.columns = columns, .count = 1};

    censored_data_make(&c, &data);
    ck_assert_int_eq(censored_fit(&data, &prior, &model, false, &fit), -1);
    censored_data_free(&data);
    censored_fit_free(&fit);
}
END_TEST

/* Mean of a normal beyond a limit: μ + σ φ(z)/(1 − Φ(z)); at z = 0, 0.79788 σ (√(2/π)). */
START_TEST(expected_values_of_what_was_seen)
{
    struct observation held = {MEASURE_AT_LEAST, 90, INFINITY, 1};
    struct observation low = {MEASURE_AT_MOST, -INFINITY, 90, 1};
    struct observation between = {MEASURE_BETWEEN, 80, 100, 1};
    struct observation exact = {MEASURE_EXACT, 77, 77, 1};

    ck_assert_double_eq_tol(censored_expected(&held, 90, 10), 90 + 10 * sqrt(2 / M_PI), 1e-12);
    ck_assert_double_eq_tol(censored_expected(&low, 90, 10), 90 - 10 * sqrt(2 / M_PI), 1e-12);
    ck_assert_double_eq_tol(censored_expected(&between, 90, 10), 90, 1e-12);
    ck_assert_double_eq(censored_expected(&exact, 90, 10), 77);
    ck_assert_double_eq_tol(censored_expected(&held, -900, 10), 90.10098, 1e-4);
}
END_TEST

/* Four results by hand: z = (1, x, −y). At least counts as its low end, at most as its high one,
 * between as its middle. */
START_TEST(moments_by_hand)
{
    struct observation y[] = {{MEASURE_EXACT, 2, 2, 3},
                              {MEASURE_AT_LEAST, 4, INFINITY, 2},
                              {MEASURE_AT_MOST, -INFINITY, -1, 1},
                              {MEASURE_BETWEEN, 1, 2, 1}};
    double x[] = {1, 5, 1, 7, 1, -2, 1, 3};
    static const double moments[] = {3, 15, -6, 15, 75, -30, -6, -30, 12.5};
    static const double points[] = {7, 30, -14.5, 30, 186, -92.5, -14.5, -92.5, 47.75};
    struct model_matrix c = {.n = 4, .p = 2, .x = x, .y = y, .within = 0.5, .unit = 1};
    struct censored_data d;

    censored_data_make(&c, &d);
    ck_assert_uint_eq(d.p, 2);
    ck_assert_uint_eq(d.n, 3);
    ck_assert_double_eq(d.exact, 3);
    ck_assert_double_eq(d.total, 7);
    ck_assert(d.below && d.above);
    ck_assert_mem_eq(d.x, x + 2, 6 * sizeof *x);
    ck_assert_int_eq(d.y[2].kind, MEASURE_BETWEEN);
    for (size_t i = 0; i < 9; i++) {
        ck_assert_double_eq_tol(d.moments[i], moments[i], 1e-12);
        ck_assert_double_eq_tol(d.points[i], points[i], 1e-12);
    }
    censored_data_free(&d);
    c.n = 2;
    y[0] = y[1];
    censored_data_make(&c, &d);
    ck_assert(d.below && !d.above);
    censored_data_free(&d);
    y[0] = y[1] = y[2];
    censored_data_make(&c, &d);
    ck_assert(!d.below && d.above);
    censored_data_free(&d);
}
END_TEST

/* The score is the slope of the log-likelihood along the mean, times the scatter. */
START_TEST(scores_are_slopes)
{
    struct observation seen[] = {{MEASURE_AT_LEAST, 90, INFINITY, 1},
                                 {MEASURE_AT_MOST, -INFINITY, 75, 1},
                                 {MEASURE_BETWEEN, 70, 95, 1}};
    struct observation exact = {MEASURE_EXACT, 77, 77, 1};

    for (double mu = 60; mu < 110; mu += 7)
        for (size_t i = 0; i < 3; i++) {
            double step = 1e-3, value[2];

            for (int k = 0; k < 2; k++) {
                double at = mu + (k ? step : -step);

                value[k] = log(0.5 * erfc((seen[i].low - at) / 10 / sqrt(2)) -
                               0.5 * erfc((seen[i].high - at) / 10 / sqrt(2)));
            }
            ck_assert_double_eq_tol(censored_score(&seen[i], mu, 10),
                                    10 * (value[1] - value[0]) / (2 * step), 1e-6);
        }
    ck_assert_double_eq(censored_score(&exact, 90, 10), -1.3);
}
END_TEST

/* A constant alone and exact results: h² = (n + ca)/(S + 2 cb), curvature n and 2 (n + ca), and at
 * the maximum Σ h²y² + 2 cb h² = n + ca. The mean is γ/h with variance 1/(h² n). */
START_TEST(a_constant_alone_in_closed_form)
{
    struct observation y[] = {
        {MEASURE_EXACT, -1, -1, 1}, {MEASURE_EXACT, 1, 1, 2}, {MEASURE_EXACT, -1, -1, 1}};
    double x[] = {1, 1, 1}, lambda[] = {0}, h2 = 5 / 4.5, variance, log_2pi = log(2 * M_PI);
    struct model_matrix c = {.n = 3, .p = 1, .x = x, .y = y, .unit = 1};
    struct censored_prior prior = {lambda, CENSORED_CA, CENSORED_CB};
    struct censored_fit fit = {0};
    size_t column = 0;

    ck_assert_int_eq(censored_fit_once(&c, &prior, NULL, 0, &fit), 0);
    ck_assert_double_eq_tol(fit.h, sqrt(h2), 1e-9);
    ck_assert_double_eq_tol(fit.hessian[0], 4, 1e-9);
    ck_assert_double_eq_tol(fit.hessian[1], 0, 1e-9);
    ck_assert_double_eq_tol(fit.hessian[3], 10, 1e-7);
    ck_assert_double_eq_tol(fit.log_posterior, 2.5 * log(h2) - 2 * log_2pi - 2.5, 1e-9);
    ck_assert_double_eq_tol(fit.log_evidence, fit.log_posterior + log_2pi - 0.5 * log(40), 1e-8);
    ck_assert_double_eq_tol(censored_combination(fit.factor, &column, 1, (double[]){3},
                                                 (double[]){0}, fit.h, &variance),
                            0, 1e-12);
    ck_assert_double_eq_tol(variance, 9 / h2 / 4, 1e-7);
    /* with γ = h the mean of 3 γ/h is 3, and log h adds 3²/10 */
    ck_assert_double_eq_tol(censored_combination(fit.factor, &column, 1, (double[]){3},
                                                 (double[]){fit.h}, fit.h, &variance),
                            3, 1e-12);
    ck_assert_double_eq_tol(variance, 9 / h2 / 4 + 0.9, 1e-7);
    censored_fit_free(&fit);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/censored");
    TCase *t = tcase_create("censored");

    guard_start();
    tcase_add_loop_test(t, the_maximum_is_one_and_the_curvature_is_right, 0,
                        sizeof tables / sizeof *tables);
    tcase_add_test(t, a_between_too_narrow_to_matter_is_an_exact_result);
    tcase_add_test(t, at_most_is_at_least_mirrored);
    tcase_add_test(t, a_fixed_coefficient_is_a_shift_of_the_results);
    tcase_add_test(t, a_warm_start_ends_in_the_same_place);
    tcase_add_test(t, no_maximum_is_noticed);
    tcase_add_test(t, expected_values_of_what_was_seen);
    tcase_add_test(t, moments_by_hand);
    tcase_add_test(t, scores_are_slopes);
    tcase_add_test(t, a_constant_alone_in_closed_form);
    suite_add_tcase(s, t);
    return s;
}
