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

/* More variables than are taken in all subsets, against all of them; and as many as just are. */
START_TEST(beyond_the_limit_the_search_takes_over)
{
    struct model_matrix c;
    struct model_average a, every;
    bool seen[1 << (MODEL_AVERAGE_ALL + 1)] = {false};
    double worst = 0;

    make(30, MODEL_AVERAGE_ALL + 1, 100, 4, &c);
    fit_every_subset(&c, &every);
    ck_assert_int_eq(model_average_make(&c, NULL, &a, NULL), 0);
    ck_assert(a.searched && !a.approximated && a.hessian == NULL);
    ck_assert_uint_lt(a.count, every.count);
    for (size_t g = 0; g < c.group_count; g++)
        worst = fmax(worst, fabs(every.chance[g] - a.chance[g]));
    printf("search, 13 variables: chance off by %.4f\n", worst);
    ck_assert_double_le(worst, 0.01);
    for (size_t i = 0; i < a.count; i++) {
        const struct subset *s = &a.subsets[i];

        ck_assert_double_eq_tol(s->log_evidence, every.subsets[s->groups].log_evidence, 1e-9);
        ck_assert(!seen[s->groups]); /* none comes twice */
        seen[s->groups] = true;
    }
    model_average_free(&a);
    model_average_free(&every);
    model_matrix_free(&c);
    make(16, MODEL_AVERAGE_ALL, 100, 4, &c);
    ck_assert_int_eq(model_average_make(&c, NULL, &a, NULL), 0);
    ck_assert(!a.searched);
    ck_assert_uint_eq(a.count, 1 << MODEL_AVERAGE_ALL);
    model_average_free(&a);
    model_matrix_free(&c);
}
END_TEST

/* The search expands what is within `worth` of the best: its neighbours are all there. */
START_TEST(the_search_goes_as_far_as_asked)
{
    static const struct model_average_options near = {.all = 2, .worth = 1}, far = {.all = 2};
    static const struct model_average_options nine = {.all = 2, .worth = 9};
    struct model_matrix c;
    struct model_average a, b, d;

    make(20, 8, 100, 2, &c);
    ck_assert_int_eq(model_average_make(&c, &near, &a, NULL), 0);
    ck_assert_int_eq(model_average_make(&c, &far, &b, NULL), 0);
    ck_assert_int_eq(model_average_make(&c, &nine, &d, NULL), 0);
    ck_assert_uint_lt(a.count, b.count);
    ck_assert_uint_eq(b.count, d.count);
    ck_assert_uint_eq(a.subsets[0].groups, 0);
    for (size_t i = 0; i < 8; i++) /* the neighbours of the empty subset come first */
        ck_assert_uint_eq(a.subsets[1 + i].groups, (uint64_t)1 << i);
    model_average_free(&a);
    model_average_free(&b);
    model_average_free(&d);
    model_matrix_free(&c);
}
END_TEST

/* For the subset of all variables the quadratic approximation about the full fit is that fit. */
START_TEST(the_full_subset_is_not_approximated)
{
    struct model_average exact, quadratic;
    struct model_matrix c;
    struct censored_data data;
    struct censored_fit fit = {0};
    size_t columns[4];
    double factor[16];
    const struct subset *s, *t;

    make(4 * MODEL_AVERAGE_CELLS, 2, 90, 5, &c);
    fit_every_subset(&c, &exact);
    ck_assert_int_eq(model_average_make(&c, NULL, &quadratic, NULL), 0);
    s = &exact.subsets[3];
    t = &quadratic.subsets[3];
    ck_assert_double_eq_tol(s->log_evidence, t->log_evidence, 1e-6);
    ck_assert_double_eq_tol(s->h, t->h, 1e-9);
    for (size_t j = 0; j < 3; j++)
        ck_assert_double_eq_tol(s->gamma[j], t->gamma[j], 1e-7);
    censored_data_make(&c, &data);
    ck_assert_uint_eq(model_matrix_columns(&c, 3, columns), 3);
    ck_assert_int_eq(model_average_factor(&exact, &c, &data, columns, 3, &fit, factor), 0);
    ck_assert_double_eq_tol(t->log_h_sd, 1 / factor[15], 1e-9);
    ck_assert_double_eq_tol(fit.h, s->h, 1e-9);
    ck_assert_int_eq(model_average_factor(&quadratic, &c, &data, columns, 3, NULL, factor), 0);
    for (size_t i = 0; i < 4; i++)
        for (size_t j = 0; j <= i; j++)
            ck_assert_double_eq_tol(factor[i * 4 + j], fit.factor[i * 4 + j], 1e-6);
    censored_data_free(&data);
    censored_fit_free(&fit);
    model_average_free(&exact);
    model_average_free(&quadratic);
    model_matrix_free(&c);
}
END_TEST

/* As many rows that are not exact as are fitted one by one, and one more. */
START_TEST(the_approximation_begins_beyond_its_limit)
{
    struct observation y[MODEL_AVERAGE_CELLS + 2];
    double x[MODEL_AVERAGE_CELLS + 2], lambda[] = {0};
    struct model_matrix c = {.p = 1, .x = x, .y = y, .lambda = lambda, .unit = 1};

    y[0] = (struct observation){MEASURE_EXACT, 0, 0, 1};
    x[0] = 1;
    for (size_t i = 1; i < sizeof y / sizeof *y; i++) {
        y[i] = (struct observation){MEASURE_BETWEEN, (double)(i % 7), (double)(i % 7) + 1, 1};
        x[i] = 1;
    }
    for (size_t more = 0; more < 2; more++) {
        struct model_average a;

        c.n = 1 + MODEL_AVERAGE_CELLS + more;
        ck_assert_int_eq(model_average_make(&c, NULL, &a, NULL), 0);
        ck_assert_int_eq(a.approximated, more);
        model_average_free(&a);
    }
}
END_TEST

/* Effects, scatter and chances are the weighted means of the subsets. */
START_TEST(averages_are_weighted_means)
{
    struct model_matrix c;
    struct model_average a;
    double scatter = 0, any = 0, sum = 0;

    make(12, 3, 100, 8, &c);
    ck_assert_int_eq(model_average_make(&c, NULL, &a, NULL), 0);
    for (size_t i = 0; i < a.count; i++) {
        sum += a.subsets[i].weight;
        scatter += a.subsets[i].weight / a.subsets[i].h;
        any += a.subsets[i].groups & 5 ? a.subsets[i].weight : 0;
    }
    ck_assert_double_eq_tol(sum, 1, 1e-12);
    ck_assert_double_eq_tol(a.scatter, scatter, 1e-12);
    ck_assert_double_eq_tol(model_average_any(&a, 5), any, 1e-12);
    for (size_t g = 0; g < 3; g++) {
        double effect = 0, chance = 0;

        for (size_t i = 0; i < a.count; i++)
            if (a.subsets[i].groups >> g & 1) {
                chance += a.subsets[i].weight;
                effect += a.subsets[i].weight * a.subsets[i].gamma[1 + g] / a.subsets[i].h;
            }
        ck_assert_double_eq_tol(a.chance[g], chance, 1e-12);
        ck_assert_double_eq_tol(a.beta[1 + g], effect / chance, 1e-9);
    }
    model_average_free(&a);
    model_matrix_free(&c);
}
END_TEST

static double nothing_fits(uint64_t groups, size_t group_count, const void *unused)
{
    (void)groups;
    (void)group_count;
    (void)unused;
    return -INFINITY;
}

static double only_the_last(uint64_t groups, size_t group_count, const void *unused)
{
    (void)unused;
    return groups + 1 == (uint64_t)1 << group_count ? 0 : -INFINITY;
}

START_TEST(no_subset_with_a_maximum_is_refused)
{
    static const struct model_average_options refused = {.log_prior = nothing_fits};
    static const struct model_average_options last = {.log_prior = only_the_last};
    struct model_matrix c;
    struct model_average a;
    struct error e = {0};

    make(12, 2, 100, 3, &c);
    ck_assert_int_ne(model_average_make(&c, &refused, &a, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert(a.count == 0 && a.subsets == NULL && a.chance == NULL);
    ck_assert_int_eq(model_average_make(&c, &last, &a, &e), 0);
    ck_assert_double_eq(a.subsets[3].weight, 1);
    ck_assert(a.chance[0] == 1 && a.chance[1] == 1);
    model_average_free(&a);
    for (size_t i = 0; i < c.n; i++) /* nothing broke */
        c.y[i] = (struct observation){MEASURE_AT_LEAST, 1, INFINITY, 1};
    ck_assert_int_ne(model_average_make(&c, NULL, &a, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    model_matrix_free(&c);
    c.group_count = MODEL_AVERAGE_MAX_GROUPS + 1;
    ck_assert_int_ne(model_average_make(&c, NULL, &a, &e), 0);
    ck_assert_str_eq(e.text, "65 variables were changed; at most 64 can be ranked.");
}
END_TEST

struct reports {
    double done[4];
    size_t count, stop_at;
};

static bool report(void *user, double done)
{
    struct reports *r = user;

    r->done[r->count++] = done;
    return r->count != r->stop_at;
}

/* Every 64 subsets, of the 128 of seven variables. */
START_TEST(progress_is_told_and_can_stop)
{
    struct reports r = {.stop_at = 9};
    struct model_average_options options = {.progress = report, .user = &r};
    struct model_matrix c;
    struct model_average a;
    struct error e = {0};

    make(12, 7, 100, 3, &c);
    ck_assert_int_eq(model_average_make(&c, &options, &a, &e), 0);
    ck_assert_uint_eq(r.count, 2);
    ck_assert(r.done[0] == 0.5 && r.done[1] == 1);
    model_average_free(&a);
    r = (struct reports){.stop_at = 1};
    ck_assert_int_ne(model_average_make(&c, &options, &a, &e), 0);
    ck_assert_uint_eq(r.count, 1);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_str_eq(e.text, "Stopped before the ranking was done.");
    ck_assert_uint_eq(a.count, 0);
    r = (struct reports){.stop_at = 1};
    options.all = 2; /* the search stops as well: 64 of 8192 at most */
    ck_assert_int_ne(model_average_make(&c, &options, &a, &e), 0);
    ck_assert_uint_eq(r.count, 1);
    ck_assert_double_eq(r.done[0], 64.0 / MODEL_AVERAGE_MAX_SUBSETS);
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
    tcase_add_test(t, beyond_the_limit_the_search_takes_over);
    tcase_add_test(t, the_search_goes_as_far_as_asked);
    tcase_add_test(t, the_full_subset_is_not_approximated);
    tcase_add_test(t, the_approximation_begins_beyond_its_limit);
    tcase_add_test(t, averages_are_weighted_means);
    tcase_add_test(t, no_subset_with_a_maximum_is_refused);
    tcase_add_test(t, progress_is_told_and_can_stop);
    suite_add_tcase(s, t);
    return s;
}
