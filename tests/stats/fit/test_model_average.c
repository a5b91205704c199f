/*
 * Averaging over subsets: the search against all subsets, the quadratic approximation against
 * fitting every subset, packed coupons against unpacked ones, and the prior.
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/fit/effect.h"
#include "stats/fit/model_average.h"
#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "table.h"

/* Coupons with k variables (every third one a number, the others 0 or 1), the first two of which
 * matter, held at `stop`. */
static void make(size_t n, size_t k, double stop, uint64_t seed, struct model_matrix *c)
{
    struct random random = random_seeded(seed);
    struct frame f;
    struct error e = {0};

    frame_init(&f, "y", "y", "", 180);
    for (size_t j = 0; j < k; j++)
        frame_add_column(&f, "x", "x", "", false);
    for (size_t i = 0; i < n; i++) {
        double y = 60 + 15 * random_normal(&random);

        frame_add_row(&f, "m", measure_missing());
        for (size_t j = 0; j < k; j++) {
            double x = random_uniform(&random);

            x = j % 3 == 2 ? x : x < 0.5;
            frame_set_number(&f, i, j, x);
            y += j == 0 ? 40 * x : j == 1 ? 25 * x : 0;
        }
        f.y[i] = y > stop ? measure_at_least(stop) : measure_exact(y);
    }
    ck_assert_msg(model_matrix_make(&f, c, NULL, &e) == 0, "%s", e.text);
    frame_free(&f);
}

/* Every subset by its own fit, however many cells. */
static void fit_every_subset(const struct model_matrix *c, struct model_average *a)
{
    struct censored_prior prior = {c->lambda, CENSORED_CA, CENSORED_CB};
    size_t *columns = mem_zero(c->p, sizeof *columns);
    struct censored_fit fit = {0};
    struct censored_data data;
    double top = -INFINITY, sum = 0;

    *a = (struct model_average){.count = (size_t)1 << c->group_count};
    a->subsets = mem_zero(a->count, sizeof *a->subsets);
    a->chance = mem_zero(c->group_count, sizeof *a->chance);
    censored_data_make(c, &data);
    for (size_t i = 0; i < a->count; i++) {
        struct subset *s = &a->subsets[i];
        size_t count = model_matrix_columns(c, i, columns);

        ck_assert_int_eq(censored_fit(&data, &prior,
                                      &(struct censored_model){.columns = columns, .count = count},
                                      false, &fit),
                         0);
        *s = (struct subset){.groups = i, .gamma = mem_zero(c->p, sizeof(double)), .h = fit.h};
        for (size_t j = 0; j < count; j++)
            s->gamma[columns[j]] = fit.gamma[j];
        s->log_prior = model_average_prior_by_size(i, c->group_count, NULL);
        s->log_evidence = fit.log_evidence + s->log_prior;
        top = fmax(top, s->log_evidence);
    }
    for (size_t i = 0; i < a->count; i++)
        sum += a->subsets[i].weight = exp(a->subsets[i].log_evidence - top);
    for (size_t i = 0; i < a->count; i++)
        a->subsets[i].weight /= sum;
    for (size_t g = 0; g < c->group_count; g++)
        a->chance[g] = model_average_any(a, (uint64_t)1 << g);
    censored_fit_free(&fit);
    censored_data_free(&data);
    free(columns);
}

static double largest_difference(const struct model_matrix *c,
                                 const struct model_average_options *one,
                                 const struct model_average_options *other)
{
    struct model_average a, b;
    struct error e = {0};
    double worst = 0;

    ck_assert_int_eq(model_average_make(c, one, &a, &e), 0);
    ck_assert_int_eq(model_average_make(c, other, &b, &e), 0);
    for (size_t g = 0; g < c->group_count; g++)
        worst = fmax(worst, fabs(a.chance[g] - b.chance[g]));
    model_average_free(&a);
    model_average_free(&b);
    return worst;
}

START_TEST(the_search_finds_what_all_subsets_hold)
{
    static const struct model_average_options searching = {.all = 2};
    static const size_t sizes[] = {8, 12, 20, 60};
    double worst = 0;

    for (uint64_t seed = 1; seed <= 6; seed++) {
        struct model_matrix c;

        make(sizes[_i], 10, 100, seed, &c);
        worst = fmax(worst, largest_difference(&c, NULL, &searching));
        model_matrix_free(&c);
    }
    printf("search, %zu coupons, 10 variables: chance off by %.4f at most\n", sizes[_i], worst);
    ck_assert_double_le(worst, 0.005);
}
END_TEST

/* More cells than are fitted one by one: the full fit in place of all. */
START_TEST(the_quadratic_approximation_is_close)
{
    struct model_average exact, quadratic;
    struct model_matrix c;
    double worst = 0;

    make(4 * MODEL_AVERAGE_CELLS, 5, 90, 1 + (uint64_t)_i, &c);
    fit_every_subset(&c, &exact);
    ck_assert_int_eq(model_average_make(&c, NULL, &quadratic, NULL), 0);
    ck_assert(quadratic.approximated && quadratic.hessian != NULL);
    for (size_t g = 0; g < c.group_count; g++)
        worst = fmax(worst, fabs(exact.chance[g] - quadratic.chance[g]));
    printf("approximation: chance off by %.4f at most\n", worst);
    ck_assert_double_le(worst, 0.003);
    model_average_free(&exact);
    model_average_free(&quadratic);
    model_matrix_free(&c);
}
END_TEST

/* The interval from the mixture of normals that goes with it, against the walked density. */
START_TEST(its_intervals_are_close)
{
    static const double along[] = {1};
    struct model_matrix c;
    struct model_average a, b;
    struct error e = {0};
    double worst = 0;

    make(4 * MODEL_AVERAGE_CELLS, 3, 90, 9, &c);
    fit_every_subset(&c, &a);
    ck_assert_int_eq(model_average_make(&c, NULL, &b, &e), 0);
    ck_assert(b.approximated);
    for (size_t g = 0; g < 3; g++) {
        struct effect_range walked, mixed;
        double width;

        effect_range_make(&c, &a, g, along, &walked);
        effect_range_make(&c, &b, g, along, &mixed);
        width = walked.high - walked.low;
        worst = fmax(worst, fabs(walked.low - mixed.low) / width);
        worst = fmax(worst, fabs(walked.high - mixed.high) / width);
    }
    printf("approximation: interval ends off by %.4f of the width\n", worst);
    ck_assert_double_le(worst, 0.04);
    model_average_free(&a);
    model_average_free(&b);
    model_matrix_free(&c);
}
END_TEST

START_TEST(packing_changes_nothing)
{
    struct model_matrix c, collapsed;
    struct model_average a, b;
    struct error e = {0};

    make(300, 2, 90, 7, &c);
    collapse_rows(&c, &collapsed);
    ck_assert_uint_lt(collapsed.n, 9); /* 4 set-ups, exact and held */
    ck_assert_int_eq(model_average_make(&c, NULL, &a, &e), 0);
    ck_assert_int_eq(model_average_make(&collapsed, NULL, &b, &e), 0);
    for (size_t i = 0; i < a.count; i++) {
        ck_assert_double_eq_tol(a.subsets[i].log_evidence, b.subsets[i].log_evidence, 1e-8);
        ck_assert_double_eq_tol(a.subsets[i].h, b.subsets[i].h, 1e-9);
    }
    model_average_free(&a);
    model_average_free(&b);
    model_matrix_free(&c);
    model_matrix_free(&collapsed);
}
END_TEST

START_TEST(every_size_has_the_same_prior)
{
    double by_size[6] = {0};

    for (uint64_t groups = 0; groups < 32; groups++)
        by_size[__builtin_popcountll(groups)] += exp(model_average_prior_by_size(groups, 5, NULL));
    for (int s = 0; s <= 5; s++)
        ck_assert_double_eq_tol(by_size[s], 1.0 / 6, 1e-12);
}
END_TEST

static double only_pairs(uint64_t groups, size_t group_count, const void *user)
{
    (void)group_count;
    (void)user;
    return __builtin_popcountll(groups) == 2 ? 0 : -INFINITY;
}

START_TEST(a_prior_can_shut_subsets_out)
{
    static const struct model_average_options pairs = {.log_prior = only_pairs};
    struct model_matrix c;
    struct model_average a;
    struct error e = {0};
    double sum = 0;

    make(20, 4, 100, 3, &c);
    ck_assert_int_eq(model_average_make(&c, &pairs, &a, &e), 0);
    for (size_t g = 0; g < 4; g++)
        sum += a.chance[g];
    ck_assert_double_eq_tol(sum, 2, 1e-12);
    model_average_free(&a);
    model_matrix_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/model_average");
    TCase *t = tcase_create("average");

    guard_start();
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, the_search_finds_what_all_subsets_hold, 0, 4);
    tcase_add_loop_test(t, the_quadratic_approximation_is_close, 0, 2);
    tcase_add_test(t, its_intervals_are_close);
    tcase_add_test(t, packing_changes_nothing);
    tcase_add_test(t, every_size_has_the_same_prior);
    tcase_add_test(t, a_prior_can_shut_subsets_out);
    suite_add_tcase(s, t);
    return s;
}
