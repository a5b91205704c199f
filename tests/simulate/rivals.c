#include "rivals.h"

#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/data/model_matrix.h"
#include "stats/fit/censored.h"
#include "stats/fit/model_average.h"
#include "stats/num/linear.h"

static void by_chance(const struct scene *s, const struct ranking *r, double *score)
{
    (void)s;
    /* Equal chances (two certain ones) are ordered by effect, as the program does. */
    for (size_t i = 0; i < r->count; i++)
        score[r->items[i].column] = r->items[i].chance + 1e-9 * fabs(r->items[i].effect) / r->range;
}

static void by_mean_effect(const struct scene *s, const struct ranking *r, double *score)
{
    (void)s;
    for (size_t i = 0; i < r->count; i++)
        score[r->items[i].column] = fabs(r->items[i].effect_anyway);
}

static void by_strongest(const struct scene *s, const struct ranking *r, double *score)
{
    (void)s;
    for (size_t i = 0; i < r->count; i++)
        score[r->items[i].column] = r->items[i].prob_largest;
}

static void by_share(const struct scene *s, const struct ranking *r, double *score)
{
    (void)s;
    for (size_t i = 0; i < r->count; i++)
        score[r->items[i].column] = r->items[i].importance;
}

static double one_at_most(uint64_t groups, size_t group_count, const void *unused)
{
    (void)group_count, (void)unused;
    return __builtin_popcountll(groups) <= 1 ? 0 : -INFINITY;
}

/* Each variable alone against none, held results honoured. */
static void one_at_a_time(const struct scene *s, const struct ranking *r, double *score)
{
    struct model_average_options options = {.log_prior = one_at_most};
    struct model_average a;
    struct model_matrix c;

    (void)r;
    if (model_matrix_make(&s->f, &c, NULL, NULL) != 0)
        return;
    if (model_average_make(&c, &options, &a, NULL) == 0) {
        for (size_t i = 0; i < a.count; i++)
            for (size_t g = 0; g < c.group_count; g++)
                if (a.subsets[i].groups == (uint64_t)1 << g)
                    score[c.groups[g].column] = a.subsets[i].log_evidence;
        model_average_free(&a);
    }
    model_matrix_free(&c);
}

/* Completed results, or the limits themselves: y as numbers. */
static double *plain_results(const struct model_matrix *c)
{
    double *y = mem_zero(c->n, sizeof *y);

    for (size_t i = 0; i < c->n; i++)
        y[i] = c->y[i].kind == MEASURE_AT_MOST ? c->y[i].high : c->y[i].low;
    return y;
}

/* The largest difference of the plain means of two levels; of a number, the slope over its range.
 */
static double plain_difference(const struct model_matrix *c, const struct model_group *g,
                               const double *y)
{
    double *x = mem_zero(c->n * (g->count + 1), sizeof *x), low = 0, high = 0;
    double *level = mem_zero(g->count, sizeof *level);
    double *beta = mem_zero(g->count + 1, sizeof *beta), *rest = mem_zero(c->n, sizeof *rest);

    for (size_t i = 0; i < c->n; i++) {
        x[i * (g->count + 1)] = 1;
        for (size_t j = 0; j < g->count; j++)
            x[i * (g->count + 1) + j + 1] = c->x[i * c->p + g->first + j];
    }
    linear_least_squares(x, c->n, g->count + 1, y, LINEAR_TOLERANCE, beta, rest);
    for (size_t l = 0; l < g->level_count; l++) {
        double sum = 0;

        model_matrix_level(g, l, level);
        for (size_t j = 0; j < g->count; j++)
            sum += level[j] * beta[j + 1];
        low = l == 0 ? sum : fmin(low, sum);
        high = l == 0 ? sum : fmax(high, sum);
    }
    high = g->level_count > 0 ? high - low : fabs(beta[1]);
    free(beta);
    free(rest);
    free(x);
    free(level);
    return high;
}

static void by_means(const struct scene *s, const struct ranking *r, double *score)
{
    struct model_matrix c;
    double *y;

    (void)r;
    if (model_matrix_make(&s->f, &c, NULL, NULL) != 0)
        return;
    y = plain_results(&c);
    for (size_t g = 0; g < c.group_count; g++)
        score[c.groups[g].column] = plain_difference(&c, &c.groups[g], y);
    free(y);
    model_matrix_free(&c);
}

/* The size of a group's part in a set of coefficients: the largest difference it makes. */
static double largest_difference(const struct model_group *g, const double *beta)
{
    double *level = mem_zero(g->count, sizeof *level), low = INFINITY, high = -INFINITY;

    if (g->level_count == 0) {
        free(level);
        return fabs(beta[g->first]);
    }
    for (size_t l = 0; l < g->level_count; l++) {
        double sum = 0;

        model_matrix_level(g, l, level);
        for (size_t j = 0; j < g->count; j++)
            sum += level[j] * beta[g->first + j];
        low = fmin(low, sum);
        high = fmax(high, sum);
    }
    free(level);
    return high - low;
}

static void by_least_squares(const struct scene *s, const struct ranking *r, double *score)
{
    struct model_matrix c;
    double *y, *beta, *rest;

    (void)r;
    if (model_matrix_make(&s->f, &c, NULL, NULL) != 0)
        return;
    y = plain_results(&c);
    beta = mem_zero(c.p, sizeof *beta);
    rest = mem_zero(c.n, sizeof *rest);
    linear_least_squares(c.x, c.n, c.p, y, LINEAR_TOLERANCE, beta, rest);
    for (size_t g = 0; g < c.group_count; g++)
        score[c.groups[g].column] = largest_difference(&c.groups[g], beta);
    free(beta);
    free(rest);
    free(y);
    model_matrix_free(&c);
}

/* All variables in one censored fit with the prior given. */
static void one_censored_fit(const struct scene *s, double weaken, double ca, double cb,
                             double *score)
{
    struct censored_fit fit = {0};
    struct censored_data data;
    struct model_matrix c;
    size_t *columns;

    if (model_matrix_make(&s->f, &c, NULL, NULL) != 0)
        return;
    columns = mem_zero(c.p, sizeof *columns);
    for (size_t j = 0; j < c.p; j++) {
        columns[j] = j;
        c.lambda[j] *= weaken;
    }
    censored_data_make(&c, &data);
    if (censored_fit(&data, &(struct censored_prior){c.lambda, ca, cb},
                     &(struct censored_model){.columns = columns, .count = c.p}, false, &fit) == 0)
        for (size_t g = 0; g < c.group_count; g++)
            score[c.groups[g].column] = largest_difference(&c.groups[g], fit.gamma);
    censored_fit_free(&fit);
    censored_data_free(&data);
    free(columns);
    model_matrix_free(&c);
}

/* Maximum likelihood but for a trace of a prior that keeps it finite. */
static void by_likelihood(const struct scene *s, const struct ranking *r, double *score)
{
    (void)r;
    one_censored_fit(s, 1e-4, 0, 1e-4, score);
}

static void by_full_model(const struct scene *s, const struct ranking *r, double *score)
{
    (void)r;
    one_censored_fit(s, 1, CENSORED_CA, CENSORED_CB, score);
}

const struct rival rivals[RIVALS] = {
    {"**chance, averaged over subsets (the program)**", by_chance},
    {"size of the averaged effect", by_mean_effect},
    {"chance of being the strongest", by_strongest},
    {"share of explained differences on completed values", by_share},
    {"one variable at a time, censored likelihood", one_at_a_time},
    {"one fit of all variables with the prior", by_full_model},
    {"difference of means, held taken as broken", by_means},
    {"one least-squares fit, held taken as broken", by_least_squares},
    {"one maximum-likelihood censored fit", by_likelihood},
};
