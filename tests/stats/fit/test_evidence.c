/*
 * The slow twin: evidence and density of the effect by direct numerical integration over (γ, log h)
 * of the likelihood written down anew, against Laplace's approximation and the walked density. The
 * trapezoid rule on a grid that reaches 8 deviations each way is exact to many digits for such
 * smooth functions; the grid is turned and scaled by the curvature, which changes no value.
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/fit/effect.h"
#include "stats/fit/model_average.h"
#include "stats/fit/prob_largest.h"
#include "stats/num/guard.h"
#include "stats/num/linear.h"
#include "table.h"

#define TAU 2.0
#define LOG_2PI 1.83787706640934548356

static const struct twin_case {
    const char *name, *table;
    double evidence_off; /* most that log evidence may be off by */
    double chance_off;   /* most that a chance may be off by */
} cases[] = {
    {"exact", "a,y\n0,40\n0,50\n1,100\n1,110\n", 0.05, 0.001},
    {"some held", "a,y\n0,40\n0,62\n0,55\n1,90+\n1,90+\n1,71\n", 0.06, 0.003},
    {"most held", "a,y\n0,40\n0,90+\n0,85\n1,90+\n1,90+\n1,90+\n", 0.16, 0.02},
    {"one broke", "a,y\n0,40\n0,90+\n1,90+\n1,90+\n1,90+\n", 0.20, 0.025},
    {"all kinds", "a,y\n0,40\n0,<=30\n0,20..60\n1,90+\n1,60..120\n1,71\n", 0.05, 0.003},
    {"two variables", "a,b,y\n0,0,40\n0,1,60\n1,1,90+\n1,0,75\n0,0,35\n1,1,90+\n", 0.08, 0.005},
};

static double below(double x)
{
    return 0.5 * erfc(-x / sqrt(2));
}

/* Log of the likelihood and the prior of scatter and slopes at (γ, log h). */
static double log_joint(const struct model_matrix *c, const size_t *columns, size_t count,
                        const double *theta)
{
    double h = exp(theta[count]), value = theta[count] - 0.25 * h * h;

    for (size_t j = 1; j < count; j++)
        value -= 0.5 * theta[j] * theta[j] / (TAU * TAU) + 0.5 * LOG_2PI + log(TAU);
    for (size_t i = 0; i < c->n; i++) {
        const struct observation *y = &c->y[i];
        double eta = 0;

        for (size_t j = 0; j < count; j++)
            eta += c->x[i * c->p + columns[j]] * theta[j];
        if (y->kind == MEASURE_EXACT)
            value += theta[count] - 0.5 * pow(h * y->low - eta, 2) - 0.5 * LOG_2PI;
        else if (y->kind == MEASURE_AT_LEAST)
            value += log(below(eta - h * y->low));
        else if (y->kind == MEASURE_AT_MOST)
            value += log(below(h * y->high - eta));
        else
            value += log(below(h * y->high - eta) - below(h * y->low - eta));
    }
    return value;
}

/* Effects met on the grid with their weights. */
struct cloud {
    double *at, *weight;
    size_t count;
};

/* Integrates over the grid; remembers γ[effect]/h of every point when there is a cloud. */
static double integrate(const struct model_matrix *c, const size_t *columns, size_t count,
                        const struct censored_fit *fit, int nodes, size_t effect,
                        struct cloud *cloud)
{
    size_t m = count + 1, *digit = mem_zero(m, sizeof *digit), axis = 0;
    double *z = mem_zero(m, sizeof *z), step = 16.0 / (nodes - 1), sum = 0;

    while (axis < m) {
        double value;

        for (size_t i = 0; i < m; i++)
            z[i] = -8 + step * (double)digit[i];
        linear_back_solve(fit->factor, m, z);
        for (size_t i = 0; i < count; i++)
            z[i] += fit->gamma[i];
        z[count] += log(fit->h);
        value = exp(log_joint(c, columns, count, z) - fit->log_posterior);
        sum += value;
        if (cloud != NULL && value > 1e-12) {
            cloud->at[cloud->count] = z[effect] / exp(z[count]);
            cloud->weight[cloud->count++] = value;
        }
        for (axis = 0; axis < m && ++digit[axis] == (size_t)nodes; axis++)
            digit[axis] = 0;
    }
    free(digit);
    free(z);
    return fit->log_posterior + log(sum) + (double)m * log(step) -
           0.5 * linear_cholesky_log_det(fit->factor, m);
}

static int nodes_for(size_t columns)
{
    return columns == 1 ? 201 : columns == 2 ? 81 : 41;
}

/* Log evidence of one subset, by Laplace and by the grid. */
static void both_ways(const struct model_matrix *c, uint64_t groups, size_t effect, double *laplace,
                      double *grid, struct cloud *cloud)
{
    struct censored_data data;
    struct censored_fit fit = {0};
    size_t columns[8], count = model_matrix_columns(c, groups, columns);
    struct censored_prior prior = {c->lambda, CENSORED_CA, CENSORED_CB};
    struct censored_model model = {.columns = columns, .count = count};

    censored_data_make(c, &data);
    ck_assert_int_eq(censored_fit(&data, &prior, &model, false, &fit), 0);
    *laplace = fit.log_evidence;
    *grid = integrate(c, columns, count, &fit, nodes_for(count), effect, cloud);
    censored_fit_free(&fit);
    censored_data_free(&data);
}

static void code(const struct twin_case *t, struct model_matrix *c)
{
    struct frame f;
    struct error e = {0};

    table_to_frame(t->table, 180, &f);
    ck_assert_msg(model_matrix_make(&f, c, NULL, &e) == 0, "%s", e.text);
    frame_free(&f);
}

START_TEST(laplace_is_close_to_the_integral)
{
    const struct twin_case *t = &cases[_i];
    struct model_matrix c;
    double laplace, grid, top = -INFINITY, sum = 0, value[4], off = 0, worst = 0;
    double chance[2] = {0, 0};
    struct model_average a;
    struct error e = {0};

    code(t, &c);
    ck_assert_int_eq(model_average_make(&c, NULL, &a, &e), 0);
    for (uint64_t groups = 0; groups < a.count; groups++) {
        both_ways(&c, groups, 1, &laplace, &grid, NULL);
        off = fmax(off, fabs(laplace - grid));
        value[groups] = grid + model_average_prior_by_size(groups, c.group_count, NULL);
        top = fmax(top, value[groups]);
    }
    for (uint64_t groups = 0; groups < a.count; groups++) {
        sum += value[groups] = exp(value[groups] - top);
        for (size_t g = 0; g < c.group_count; g++)
            chance[g] += groups >> g & 1 ? value[groups] : 0;
    }
    for (size_t g = 0; g < c.group_count; g++)
        worst = fmax(worst, fabs(chance[g] / sum - a.chance[g]));
    printf("%s: log evidence off by %.3f, chance by %.4f\n", t->name, off, worst);
    ck_assert_double_le(off, t->evidence_off);
    ck_assert_double_le(worst, t->chance_off);
    model_average_free(&a);
    model_matrix_free(&c);
}
END_TEST

static int by_place(const void *a, const void *b, void *places)
{
    const double *at = places;
    double u = at[*(const size_t *)a], v = at[*(const size_t *)b];

    return u < v ? -1 : u > v;
}

static double cloud_point(const struct cloud *cloud, double part)
{
    size_t *order = mem_zero(cloud->count, sizeof *order), i = 0;
    double sum = 0, reached = 0, at;

    for (size_t j = 0; j < cloud->count; j++) {
        order[j] = j;
        sum += cloud->weight[j];
    }
    qsort_r(order, cloud->count, sizeof *order, by_place, cloud->at);
    while ((reached += cloud->weight[order[i]]) < part * sum)
        i++;
    at = cloud->at[order[i]];
    free(order);
    return at;
}

START_TEST(the_walked_density_has_the_quantiles_of_the_integral)
{
    const struct twin_case *t = &cases[_i];
    static const double along[] = {1};
    struct model_matrix c;
    struct model_average a;
    struct error e = {0};
    struct effect_range range;
    struct cloud cloud = {mem_zero(600000, sizeof(double)), mem_zero(600000, sizeof(double)), 0};
    double laplace, grid, low, high;

    code(t, &c);
    ck_assert_int_eq(model_average_make(&c, NULL, &a, &e), 0);
    effect_range_make(&c, &a, 0, along, &range);
    both_ways(&c, 1, 1, &laplace, &grid, &cloud);
    low = cloud_point(&cloud, 0.05);
    high = cloud_point(&cloud, 0.95);
    printf("%s: %.2f … %.2f°, integral %.2f … %.2f°\n", t->name, 30 * range.low, 30 * range.high,
           30 * low, 30 * high);
    ck_assert_double_eq_tol(range.low, low, 0.03 * (high - low));
    ck_assert_double_eq_tol(range.high, high, 0.03 * (high - low));
    free(cloud.at);
    free(cloud.weight);
    model_average_free(&a);
    model_matrix_free(&c);
}
END_TEST

/* Two variables: alone each is the strongest for sure; together, the part of the integral where its
 * effect is the larger. */
START_TEST(the_strongest_is_the_one_with_the_larger_effect)
{
    const struct twin_case *t = &cases[sizeof cases / sizeof *cases - 1];
    size_t capacity = 41 * 41 * 41 * 41;
    struct cloud one = {mem_zero(capacity, sizeof(double)), mem_zero(capacity, sizeof(double)), 0};
    struct cloud other = {mem_zero(capacity, sizeof(double)), mem_zero(capacity, sizeof(double)),
                          0};
    double laplace, grid[4], all = 0, both[2] = {0, 0}, chance[2], sum = 0;
    struct model_matrix c;
    struct model_average a;
    struct error e = {0};

    code(t, &c);
    ck_assert_int_eq(model_average_make(&c, NULL, &a, &e), 0);
    for (uint64_t groups = 0; groups < 4; groups++) {
        both_ways(&c, groups, 1, &laplace, &grid[groups], groups == 3 ? &one : NULL);
        all += grid[groups] = exp(grid[groups] + model_average_prior_by_size(groups, 2, NULL));
    }
    both_ways(&c, 3, 2, &laplace, &sum, &other);
    sum = 0;
    ck_assert_uint_eq(one.count, other.count);
    for (size_t i = 0; i < one.count; i++) {
        both[fabs(other.at[i]) > fabs(one.at[i])] += one.weight[i];
        sum += one.weight[i];
    }
    prob_largest(&c, &a, 1, chance);
    for (size_t g = 0; g < 2; g++) {
        double twin = (grid[1 + g] + grid[3] * both[g] / sum) / all;

        printf("strongest: %.3f, integral %.3f\n", chance[g], twin);
        ck_assert_double_eq_tol(chance[g], twin, 0.02);
    }
    free(one.at);
    free(one.weight);
    free(other.at);
    free(other.weight);
    model_average_free(&a);
    model_matrix_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/evidence");
    TCase *t = tcase_create("evidence");

    guard_start();
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, laplace_is_close_to_the_integral, 0, sizeof cases / sizeof *cases);
    /* the last one has two subsets that hold the variable: not a single integral */
    tcase_add_loop_test(t, the_walked_density_has_the_quantiles_of_the_integral, 0,
                        sizeof cases / sizeof *cases - 1);
    tcase_add_test(t, the_strongest_is_the_one_with_the_larger_effect);
    suite_add_tcase(s, t);
    return s;
}
