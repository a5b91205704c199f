#include "stats/fit/importance.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/fit/censored.h"
#include "stats/fit/model_average.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"
#include "stats/num/random.h"

/* Columns and completed results about their means, reduced to a triangle. */
struct reduced {
    const struct model_matrix *c;
    size_t p;             /* columns of the triangle, the results last */
    double *triangle;     /* p × p */
    double total;         /* squares of the results, with those lost by collapsing */
    double *y;            /* p: the results */
    size_t *columns;      /* room for the columns of a set, … */
    double *part, *basis; /* … for them side by side, and for a basis of them */
};

/* Results as numbers, the unseen part filled in by the fit with all variables. */
static int complete(const struct model_matrix *c, double *y)
{
    struct censored_prior prior = {c->lambda, CENSORED_CA, CENSORED_CB};
    struct censored_fit fit = {0};
    int rc = censored_fit_once(c, &prior, NULL, 0, &fit);

    for (size_t i = 0; i < c->n && rc == 0; i++)
        y[i] = censored_expected(&c->y[i], linear_dot(c->x + i * c->p, fit.gamma, c->p) / fit.h,
                                 1 / fit.h);
    censored_fit_free(&fit);
    return rc;
}

/* Rows (x without the constant, y) about their weighted means, times the root of the weight. */
static double *centred(const struct model_matrix *c, const double *y)
{
    size_t p = c->p;
    double *rows = mem_zero(c->n * p, sizeof *rows), *mean = mem_zero(p, sizeof *mean);
    double total = 0;

    for (size_t i = 0; i < c->n; i++) {
        total += c->y[i].weight;
        for (size_t j = 1; j < p; j++)
            mean[j - 1] += c->y[i].weight * c->x[i * p + j];
        mean[p - 1] += c->y[i].weight * y[i];
    }
    for (size_t i = 0; i < c->n; i++) {
        double root = sqrt(c->y[i].weight);

        for (size_t j = 1; j < p; j++)
            rows[i * p + j - 1] = root * (c->x[i * p + j] - mean[j - 1] / total);
        rows[i * p + p - 1] = root * (y[i] - mean[p - 1] / total);
    }
    free(mean);
    return rows;
}

static int reduce(const struct model_matrix *c, struct reduced *r)
{
    double *y = mem_zero(c->n, sizeof *y), *rows;
    int rc = complete(c, y);

    *r = (struct reduced){.c = c, .p = c->p, .total = c->within};
    r->triangle = mem_zero(r->p * r->p, sizeof *r->triangle);
    r->part = mem_zero(r->p * r->p, sizeof *r->part);
    r->basis = mem_zero(r->p * r->p, sizeof *r->basis);
    r->columns = mem_zero(r->p, sizeof *r->columns);
    r->y = mem_zero(r->p, sizeof *r->y);
    if (rc == 0) {
        rows = centred(c, y);
        linear_triangle(rows, c->n, r->p, r->triangle);
        free(rows);
    }
    for (size_t i = 0; i < r->p; i++) {
        r->y[i] = r->triangle[i * r->p + r->p - 1];
        r->total += r->y[i] * r->y[i];
    }
    free(y);
    return rc;
}

static void reduced_free(struct reduced *r)
{
    free(r->triangle);
    free(r->part);
    free(r->basis);
    free(r->columns);
    free(r->y);
}

/* Part of the variation explained by a set of groups: the length of the results within the space
 * of their columns. */
static double explained(const struct reduced *r, uint64_t groups)
{
    size_t columns = model_matrix_columns(r->c, groups, r->columns) - 1, rank;

    for (size_t i = 0; i < r->p; i++)
        for (size_t j = 0; j < columns; j++)
            r->part[i * columns + j] = r->triangle[i * r->p + r->columns[j + 1] - 1];
    rank = linear_basis(r->part, r->p, columns, LINEAR_TOLERANCE, r->basis);
    return fmin(1, linear_inside(r->basis, r->p, rank, r->y) / r->total);
}

/* Every set: the gain of bringing j into a set of s has weight s! (k − s − 1)! / k!. */
static void split_all(const struct reduced *r, double *importance)
{
    size_t k = r->c->group_count;
    uint64_t end = (uint64_t)1 << k;
    double *part = mem_zero(end, sizeof *part), *weight = mem_zero(k, sizeof *weight);

    for (size_t s = 0; s < k; s++)
        weight[s] = exp(lgamma((double)s + 1) + lgamma((double)(k - s)) - lgamma((double)k + 1));
    for (uint64_t set = 1; set < end; set++)
        part[set] = explained(r, set);
    for (uint64_t set = 0; set < end; set++)
        for (size_t j = 0; j < k; j++)
            if (!(set >> j & 1))
                importance[j] +=
                    weight[__builtin_popcountll(set)] * (part[set | (uint64_t)1 << j] - part[set]);
    free(part);
    free(weight);
}

static void bring_in(const struct reduced *r, const size_t *order, bool backwards,
                     double *importance)
{
    size_t k = r->c->group_count;
    uint64_t set = 0;
    double before = 0;

    for (size_t i = 0; i < k; i++) {
        size_t g = order[backwards ? k - 1 - i : i];
        double now = explained(r, set |= (uint64_t)1 << g);

        importance[g] += (now - before) / (2 * IMPORTANCE_ORDERS);
        before = now;
    }
}

static void split_by_orders(const struct reduced *r, uint64_t seed, double *importance)
{
    struct random random = random_seeded(seed);
    size_t k = r->c->group_count, *order = order_identity(k);

    for (int i = 0; i < IMPORTANCE_ORDERS; i++) {
        random_shuffle(&random, order, k);
        bring_in(r, order, false, importance);
        bring_in(r, order, true, importance);
    }
    free(order);
}

double importance_split(const struct model_matrix *c, uint64_t seed, double *importance)
{
    struct reduced r;
    double rest = 1;

    assert(c->group_count <= 64); /* a set is a bit mask */
    memset(importance, 0, c->group_count * sizeof *importance);
    if (reduce(c, &r) == 0 && r.total > 0) {
        if (c->group_count <= IMPORTANCE_ALL)
            split_all(&r, importance);
        else
            split_by_orders(&r, seed, importance);
        for (size_t g = 0; g < c->group_count; g++)
            rest -= importance[g];
    }
    reduced_free(&r);
    return fmax(0, rest);
}
