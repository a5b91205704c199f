#include "stats/rank/permutation_check.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/fit/censored.h"
#include "stats/num/holm.h"
#include "stats/num/linear.h"
#include "stats/num/random.h"

/* Practically no prior, but enough for a maximum: slopes with deviation 10, scatter a sixth. */
#define LAMBDA 0.01
#define CB (0.5 / 36)

/* One variable against the others. */
struct check {
    const struct model_matrix *c;
    size_t *others, other_count; /* columns of x */
    const struct model_group *group;
    double *lambda;
    double *q, *e; /* orthonormal bases of the others, and of the rest of the variable: q_count and
                      e_count rows of n numbers */
    size_t q_count, e_count;
    double *v; /* n: what is permuted */
    double *dealt;
    size_t *order;
};

/* v −= Q Q'v for the `rank` rows of q. */
static void take_away(double *v, size_t n, const double *q, size_t rank)
{
    for (size_t a = 0; a < rank; a++) {
        double along = linear_dot(q + a * n, v, n);

        for (size_t i = 0; i < n; i++)
            v[i] -= along * q[a * n + i];
    }
}

/* Bases of the others and of what they leave of the variable. */
static void make_bases(struct check *k)
{
    size_t n = k->c->n, p = k->c->p, m = k->group->count;
    double *part = mem_zero(n * p, sizeof *part), *column = mem_zero(n, sizeof *column);
    bool any = false;

    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < k->other_count; j++)
            part[i * k->other_count + j] = k->c->x[i * p + k->others[j]];
    k->q_count = linear_basis(part, n, k->other_count, LINEAR_TOLERANCE, k->q);
    for (size_t j = 0; j < m; j++) {
        double before;
        bool left;

        for (size_t i = 0; i < n; i++)
            column[i] = k->c->x[i * p + k->group->first + j];
        before = linear_dot(column, column, n);
        take_away(column, n, k->q, k->q_count);
        take_away(column, n, k->q, k->q_count); /* again, for rounding */
        left = linear_dot(column, column, n) > LINEAR_TOLERANCE * LINEAR_TOLERANCE * before;
        any |= left;
        for (size_t i = 0; i < n; i++)
            part[i * m + j] = left ? column[i] : 0;
    }
    k->e_count = any ? linear_basis(part, n, m, LINEAR_TOLERANCE, k->e) : 0;
    free(part);
    free(column);
}

/* Scores of the coupons under the fit of the others. */
static int make_scores(struct check *k)
{
    struct censored_fit fit = {0};
    struct censored_prior prior = {k->lambda, 0, CB};
    int rc = censored_fit_once(k->c, &prior, k->others, k->other_count, &fit);

    for (size_t i = 0; i < k->c->n && rc == 0; i++) {
        double eta = 0;

        for (size_t j = 0; j < k->other_count; j++)
            eta += k->c->x[i * k->c->p + k->others[j]] * fit.gamma[j];
        k->v[i] = censored_score(&k->c->y[i], eta / fit.h, 1 / fit.h);
    }
    censored_fit_free(&fit);
    return rc;
}

/* Part explained by the variable over the part left, up to a factor. */
static double statistic(const struct check *k, const double *v, double squares)
{
    double left = squares - linear_inside(k->q, k->c->n, k->q_count, v);
    double part = linear_inside(k->e, k->c->n, k->e_count, v);

    return part / fmax(left - part, 1e-12 * squares);
}

static double permute_residuals(struct check *k, size_t permutations, struct random *random)
{
    size_t n = k->c->n, as_good = 0;
    double squares, real;

    if (make_scores(k) != 0)
        return NAN;
    take_away(k->v, n, k->q, k->q_count);
    squares = linear_dot(k->v, k->v, n);
    if (!(squares > 0))
        return NAN;
    real = statistic(k, k->v, squares);
    for (size_t i = 0; i < n; i++)
        k->order[i] = i;
    for (size_t b = 0; b < permutations; b++) {
        random_shuffle(random, k->order, n);
        for (size_t i = 0; i < n; i++)
            k->dealt[i] = k->v[k->order[i]];
        as_good += statistic(k, k->dealt, squares) >= real * (1 - 1e-9);
    }
    return (1.0 + (double)as_good) / (1.0 + (double)permutations);
}

/* Many coupons: F from the fall of the log likelihood. */
static double by_likelihood(struct check *k, const struct model_matrix *collapsed)
{
    struct censored_fit with = {0}, without = {0};
    struct censored_prior prior = {k->lambda, 0, CB};
    double chance = NAN, n = (double)k->c->n, freedom = (double)k->e_count;

    if (censored_fit_once(collapsed, &prior, NULL, 0, &with) == 0 &&
        censored_fit_once(collapsed, &prior, k->others, k->other_count, &without) == 0) {
        double left = n - (double)k->q_count - freedom;
        double gain = fmax(0, 2 * (with.log_posterior - without.log_posterior));

        chance = gsl_cdf_fdist_Q(expm1(gain / n) * left / freedom, freedom, left);
    }
    censored_fit_free(&with);
    censored_fit_free(&without);
    return chance;
}

static void pick_others(struct check *k, size_t group)
{
    k->group = &k->c->groups[group];
    k->other_count = 0;
    for (size_t j = 0; j < k->c->p; j++) {
        k->lambda[j] = j == 0 ? 0 : LAMBDA;
        if (j < k->group->first || j >= k->group->first + k->group->count)
            k->others[k->other_count++] = j;
    }
}

void permutation_check(const struct model_matrix *c, size_t permutations, uint64_t seed,
                       double *chance)
{
    struct check k = {.c = c};
    struct model_matrix collapsed = {0};

    assert(c->rows != NULL);
    k.others = mem_zero(c->p, sizeof *k.others);
    k.lambda = mem_zero(c->p, sizeof *k.lambda);
    k.q = mem_zero(c->n * c->p, sizeof *k.q);
    k.e = mem_zero(c->n * c->p, sizeof *k.e);
    k.v = mem_zero(c->n, sizeof *k.v);
    k.dealt = mem_zero(c->n, sizeof *k.dealt);
    k.order = mem_zero(c->n, sizeof *k.order);
    if (c->n > PERMUTATION_CHECK_MAX_ROWS)
        collapse_rows(c, &collapsed);
    for (size_t g = 0; g < c->group_count; g++) {
        struct random random = random_seeded(seed + g);

        pick_others(&k, g);
        make_bases(&k);
        chance[g] = NAN;
        if (k.e_count == c->groups[g].count)
            chance[g] = c->n > PERMUTATION_CHECK_MAX_ROWS
                            ? by_likelihood(&k, &collapsed)
                            : permute_residuals(&k, permutations, &random);
    }
    holm_adjust(chance, c->group_count);
    model_matrix_free(&collapsed);
    free(k.others);
    free(k.lambda);
    free(k.q);
    free(k.e);
    free(k.v);
    free(k.dealt);
    free(k.order);
}
