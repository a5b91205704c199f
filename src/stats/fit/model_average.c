#include "stats/fit/model_average.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "stats/num/linear.h"

#define WORTH 9.0 /* subsets this far (natural log) below the best are not expanded */

enum { TABLE_SIZE = 4 * MODEL_AVERAGE_MAX_SUBSETS, REPORT_EVERY = 64 };

/* Subsets being fitted. */
struct enumeration {
    const struct model_matrix *c;
    const struct model_average_options *options;
    struct censored_data data;
    struct censored_prior prior;
    size_t *columns; /* of the subset being fitted */
    struct censored_fit fit;
    struct censored_fit *full; /* NULL: every subset is fitted by itself */
    double *pull, *small;      /* full: Hessian times mode; room for a part of the Hessian */
    struct subset *subsets;
    size_t count, capacity, expected;
    bool stopped;
};

double model_average_prior_by_size(uint64_t groups, size_t group_count, const void *unused)
{
    double k = (double)group_count, s = (double)__builtin_popcountll(groups);

    (void)unused;
    return -log(k + 1) - (lgamma(k + 1) - lgamma(s + 1) - lgamma(k - s + 1));
}

/* The subset by its own fit. */
static int fit_exactly(struct enumeration *a, size_t count, struct subset *s)
{
    struct censored_model model = {.columns = a->columns, .count = count};

    if (censored_fit(&a->data, &a->prior, &model, false, &a->fit) != 0)
        return -1;
    for (size_t j = 0; j < count; j++)
        s->gamma[a->columns[j]] = a->fit.gamma[j];
    s->h = a->fit.h;
    s->log_h_sd = 1 / a->fit.factor[(count + 1) * (count + 1) - 1];
    s->log_evidence = a->fit.log_evidence;
    return 0;
}

/* Constant part of the quadratic approximation about the full fit. */
static double full_top(const struct enumeration *a)
{
    double top = a->full->log_posterior;

    for (size_t j = 0; j < a->c->p; j++)
        top -= 0.5 * a->pull[j] * a->full->gamma[j];
    return top;
}

/* The subset from the full fit: the maximum of its quadratic approximation with the other
 * coefficients at 0. The last place is log h, counted from the full fit's. */
static int fit_quadratically(struct enumeration *a, size_t count, struct subset *s)
{
    size_t p = a->c->p, m = count + 1;
    double *part = a->small, *mode = part + m * m, value = full_top(a);

    a->columns[count] = p;
    for (size_t i = 0; i < m; i++) {
        for (size_t j = 0; j < m; j++)
            part[i * m + j] = a->full->hessian[a->columns[i] * (p + 1) + a->columns[j]];
        mode[i] = a->pull[a->columns[i]];
    }
    if (linear_cholesky(part, m) != 0)
        return -1;
    linear_cholesky_solve(part, m, mode);
    for (size_t i = 0; i < m; i++)
        value += 0.5 * mode[i] * a->pull[a->columns[i]];
    value -= 0.5 * linear_cholesky_log_det(part, m) - 0.5 * (double)m * log(2 * M_PI);
    for (size_t i = 0; i < count; i++) {
        double lambda = a->c->lambda[a->columns[i]];

        s->gamma[a->columns[i]] = mode[i];
        value += lambda > 0 ? 0.5 * log(lambda / (2 * M_PI)) : 0;
    }
    s->h = a->full->h * exp(mode[count]);
    s->log_h_sd = 1 / part[m * m - 1];
    s->log_evidence = value;
    return 0;
}

static double log_prior(const struct enumeration *a, uint64_t groups)
{
    const struct model_average_options *o = a->options;

    return (o->log_prior != NULL ? o->log_prior : model_average_prior_by_size)(
        groups, a->c->group_count, o->prior_user);
}

/* Fits one subset and appends it. False when the progress call stops the work. */
static bool enumerate(struct enumeration *a, uint64_t groups)
{
    const struct model_average_options *o = a->options;
    double prior = log_prior(a, groups);
    size_t count = model_matrix_columns(a->c, groups, a->columns);
    struct subset *s;

    a->subsets = array_reserve(a->subsets, &a->capacity, a->count + 1, sizeof *a->subsets);
    s = &a->subsets[a->count];
    *s = (struct subset){
        .groups = groups, .gamma = mem_zero(a->c->p, sizeof(double)), .h = 1, .log_prior = prior};
    if (prior == -INFINITY || (a->full != NULL ? fit_quadratically : fit_exactly)(a, count, s) != 0)
        s->log_evidence = -INFINITY;
    else
        s->log_evidence += prior;
    a->count++;
    if (o->progress != NULL && a->count % REPORT_EVERY == 0)
        a->stopped = !o->progress(o->user, fmin(1, (double)a->count / (double)a->expected));
    return !a->stopped;
}

static void enumerate_all(struct enumeration *a)
{
    uint64_t end = (uint64_t)1 << a->c->group_count;

    assert(a->c->group_count <= MODEL_AVERAGE_ALL);
    a->expected = end;
    for (uint64_t groups = 0; groups < end; groups++)
        if (!enumerate(a, groups))
            return;
}

/* False the first time a subset comes. Open addressing; a slot holds the index of a subset plus 1.
 */
static bool mark_seen(uint32_t *table, const struct enumeration *a, uint64_t groups)
{
    size_t at = (groups * 0x9e3779b97f4a7c15u >> 32) % TABLE_SIZE;

    for (; table[at] != 0; at = (at + 1) % TABLE_SIZE)
        if (a->subsets[table[at] - 1].groups == groups)
            return true;
    table[at] = (uint32_t)a->count + 1;
    return false;
}

static bool visit(struct enumeration *a, uint32_t *table, uint64_t groups)
{
    return a->count < MODEL_AVERAGE_MAX_SUBSETS &&
           (mark_seen(table, a, groups) || enumerate(a, groups));
}

static bool expand_neighbours(struct enumeration *a, uint32_t *table, uint64_t groups)
{
    size_t k = a->c->group_count;

    for (size_t i = 0; i < k; i++) {
        uint64_t bit = (uint64_t)1 << i;

        if (!visit(a, table, groups ^ bit))
            return false;
    }
    for (size_t i = 0; i < k; i++)
        for (size_t j = 0; (groups >> i & 1) && j < k; j++)
            if (!(groups >> j & 1) &&
                !visit(a, table, groups ^ (uint64_t)1 << i ^ (uint64_t)1 << j))
                return false;
    return true;
}

/* Best subset not yet expanded, or `count` when all that are left are too far below the best. */
static size_t best_unexpanded(const struct enumeration *a, const bool *expanded)
{
    double worth = a->options->worth > 0 ? a->options->worth : WORTH;
    size_t best = a->count;
    double top = -INFINITY;

    for (size_t i = 0; i < a->count; i++) {
        top = fmax(top, a->subsets[i].log_evidence);
        if (!expanded[i] &&
            (best == a->count || a->subsets[i].log_evidence > a->subsets[best].log_evidence))
            best = i;
    }
    return best < a->count && a->subsets[best].log_evidence < top - worth ? a->count : best;
}

static void enumerate_by_search(struct enumeration *a)
{
    uint32_t *table = mem_zero(TABLE_SIZE, sizeof *table);
    bool *expanded = mem_zero(MODEL_AVERAGE_MAX_SUBSETS, sizeof *expanded);
    size_t at = 0;

    a->expected = MODEL_AVERAGE_MAX_SUBSETS;
    visit(a, table, 0);
    while (at < a->count && !a->stopped) {
        expanded[at] = true;
        if (!expand_neighbours(a, table, a->subsets[at].groups))
            break;
        at = best_unexpanded(a, expanded);
    }
    free(table);
    free(expanded);
}

/* Weights, and from them chances and scatter; false when no subset could be fitted. */
static bool weigh(const struct model_matrix *c, struct model_average *out)
{
    double top = -INFINITY, sum = 0;

    for (size_t i = 0; i < out->count; i++)
        top = fmax(top, out->subsets[i].log_evidence);
    if (top == -INFINITY)
        return false;
    for (size_t i = 0; i < out->count; i++)
        sum += out->subsets[i].weight = exp(out->subsets[i].log_evidence - top);
    for (size_t i = 0; i < out->count; i++) {
        out->subsets[i].weight /= sum;
        out->scatter += out->subsets[i].weight / out->subsets[i].h;
    }
    out->chance = mem_zero(c->group_count, sizeof *out->chance);
    for (size_t g = 0; g < c->group_count; g++)
        out->chance[g] = model_average_any(out, (uint64_t)1 << g);
    return true;
}

/* Mean of γ/h over the subsets that hold the group, however little weight they have. */
static void mean_effect(const struct model_group *group, uint64_t bit, struct model_average *out)
{
    double top = -INFINITY, sum = 0;

    for (size_t i = 0; i < out->count; i++)
        if (out->subsets[i].groups & bit)
            top = fmax(top, out->subsets[i].log_evidence);
    for (size_t i = 0; i < out->count && top > -INFINITY; i++) {
        const struct subset *s = &out->subsets[i];
        double weight = s->groups & bit ? exp(s->log_evidence - top) : 0;

        sum += weight;
        for (size_t j = 0; j < group->count; j++)
            out->beta[group->first + j] += weight * s->gamma[group->first + j] / s->h;
    }
    for (size_t j = 0; j < group->count && sum > 0; j++)
        out->beta[group->first + j] /= sum;
}

double model_average_any(const struct model_average *a, uint64_t groups)
{
    double with = 0, without = 0;

    assert(groups != 0);
    for (size_t i = 0; i < a->count; i++)
        *(a->subsets[i].groups & groups ? &with : &without) += a->subsets[i].weight;
    return with / (with + without);
}

int model_average_factor(const struct model_average *a, const struct model_matrix *c,
                         const struct censored_data *data, const size_t *columns, size_t count,
                         struct censored_fit *fit, double *factor)
{
    struct censored_prior prior = {c->lambda, CENSORED_CA, CENSORED_CB};
    struct censored_model model = {.columns = columns, .count = count};
    size_t p = c->p, m = count + 1;

    if (!a->approximated) {
        if (censored_fit(data, &prior, &model, false, fit) != 0)
            return -1;
        memcpy(factor, fit->factor, m * m * sizeof *factor);
        return 0;
    }
    for (size_t i = 0; i < m; i++)
        for (size_t j = 0; j < m; j++)
            factor[i * m + j] =
                a->hessian[(i < count ? columns[i] : p) * (p + 1) + (j < count ? columns[j] : p)];
    return linear_cholesky(factor, m);
}

static int prepare(struct enumeration *a, bool approximate)
{
    struct censored_model model = {.columns = a->columns};
    size_t p = a->c->p;

    if (!approximate)
        return 0;
    a->full = mem_zero(1, sizeof *a->full);
    model.count = model_matrix_columns(a->c, UINT64_MAX, a->columns);
    if (censored_fit(&a->data, &a->prior, &model, false, a->full) != 0)
        return -1;
    a->pull = mem_zero(p + 1, sizeof *a->pull);
    a->small = mem_zero((p + 1) * (p + 2), sizeof *a->small);
    for (size_t i = 0; i <= p; i++)
        for (size_t j = 0; j < p; j++)
            a->pull[i] += a->full->hessian[i * (p + 1) + j] * a->full->gamma[j];
    return 0;
}

static void enumeration_free(struct enumeration *a)
{
    if (a->full != NULL)
        censored_fit_free(a->full);
    free(a->full);
    free(a->pull);
    free(a->small);
    censored_fit_free(&a->fit);
    censored_data_free(&a->data);
    free(a->columns);
}

int model_average_make(const struct model_matrix *c, const struct model_average_options *options,
                       struct model_average *out, struct error *e)
{
    static const struct model_average_options usual = {0};
    struct enumeration a = {.c = c, .options = options != NULL ? options : &usual};
    size_t all = a.options->all > 0 ? a.options->all : MODEL_AVERAGE_ALL;
    int rc = 0;

    *out = (struct model_average){0};
    if (c->group_count > MODEL_AVERAGE_MAX_GROUPS)
        return error_set(e, ERROR_ANSWER, "%zu variables were changed; at most %d can be ranked.",
                         c->group_count, MODEL_AVERAGE_MAX_GROUPS);
    a.columns = mem_zero(c->p + 1, sizeof *a.columns);
    censored_data_make(c, &a.data);
    a.prior = (struct censored_prior){c->lambda, CENSORED_CA, CENSORED_CB};
    out->approximated = a.data.n > MODEL_AVERAGE_CELLS;
    out->searched = c->group_count > all;
    if (prepare(&a, out->approximated) == 0)
        (out->searched ? enumerate_by_search : enumerate_all)(&a);
    if (a.full != NULL && a.full->h > 0)
        out->hessian = memcpy(mem_zero((c->p + 1) * (c->p + 1), sizeof(double)), a.full->hessian,
                              (c->p + 1) * (c->p + 1) * sizeof(double));
    out->subsets = a.subsets;
    out->count = a.count;
    if (a.stopped)
        rc = error_set(e, ERROR_ANSWER, "Stopped before the ranking was done.");
    else if (!weigh(c, out))
        rc = error_set(e, ERROR_ANSWER,
                       "The results do not bound what is to be ranked: at "
                       "least one coupon has to break.");
    if (rc == 0) {
        out->beta = mem_zero(c->p, sizeof *out->beta);
        for (size_t g = 0; g < c->group_count; g++)
            mean_effect(&c->groups[g], (uint64_t)1 << g, out);
    } else {
        model_average_free(out);
    }
    enumeration_free(&a);
    return rc;
}

void model_average_free(struct model_average *a)
{
    for (size_t i = 0; i < a->count; i++)
        free(a->subsets[i].gamma);
    free(a->subsets);
    free(a->hessian);
    free(a->chance);
    free(a->beta);
    *a = (struct model_average){0};
}
