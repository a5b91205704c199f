#include "stats/design/criterion.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>

#include "base/mem.h"
#include "stats/fit/censored.h"
#include "stats/num/linear.h"
#include "stats/num/normal.h"

/* The least information of a welded coupon, however far beyond the stop it would have gone. */
#define MIN_INFORMATION 0.02
/* Prior precision of the level: practically flat. */
#define LEVEL_PRECISION 1e-6

double criterion_information(double z)
{
    double density = exp(-z * z / 2) / sqrt(2 * M_PI);

    if (z > 37)
        return 1;
    return gsl_cdf_ugaussian_P(z) - z * density + density * normal_ratio(-z);
}

static void add_outer(double *m, const double *x, size_t p, double times)
{
    for (size_t i = 0; i < p; i++)
        for (size_t j = 0; j < p; j++)
            m[i * p + j] += times * x[i] * x[j];
}

/* M is positive definite by its ridge, so the factorisation cannot fail but for overflow. */
static void invert(struct criterion *s)
{
    gsl_matrix_view to = gsl_matrix_view_array(s->inverse, s->p, s->p);

    memcpy(s->inverse, s->matrix, s->p * s->p * sizeof *s->inverse);
    gsl_linalg_cholesky_decomp1(&to.matrix);
    gsl_linalg_cholesky_invert(&to.matrix);
}

/* The stop that most held coupons were folded to, when the caller does not know it. */
static double usual_stop(const struct candidates *s, const struct design_request *request)
{
    double stop = request->stop;
    size_t max = 0;

    for (size_t i = 0; i < s->n && isnan(request->stop); i++) {
        struct measure y = s->f->y[s->rows[i]];
        size_t same = 0;

        if (!measure_held(y) || y.low == stop)
            continue;
        for (size_t j = 0; j < s->n; j++)
            same += measure_held(s->f->y[s->rows[j]]) && s->f->y[s->rows[j]].low == y.low;
        if (same > max) {
            max = same;
            stop = y.low;
        }
    }
    return isnan(stop) ? INFINITY : stop;
}

/* Centre and unit of the results; false when they do not differ or there are none. */
static bool scale(const struct candidates *s, struct criterion *out)
{
    double sum = 0, low = INFINITY, high = -INFINITY, point;
    size_t n = 0;

    for (size_t i = 0; i < s->n; i++) {
        point = measure_point(s->f->y[s->rows[i]]);
        if (isnan(point))
            continue;
        sum += point;
        low = fmin(low, point);
        high = fmax(high, point);
        n++;
    }
    if (n == 0 || !(high > low))
        return false;
    out->centre = sum / (double)n;
    out->unit = (s->f->range > 0 ? s->f->range : high - low) / 6;
    return true;
}

/* The full model: every variable in, with the prior of the ranking; beta stays NULL when there is
 * no maximum. */
static void fit_all(const struct candidates *s, struct criterion *out)
{
    struct censored_prior prior = {out->lambda, CENSORED_CA, CENSORED_CB};
    struct model_matrix c = {
        .p = s->p, .x = mem_zero(s->n * s->p, sizeof *c.x), .y = mem_zero(s->n, sizeof *c.y)};
    struct censored_fit fit = {0};

    for (size_t i = 0; i < s->n; i++) {
        struct measure m = s->f->y[s->rows[i]];

        if (!measure_known(m))
            continue;
        memcpy(c.x + c.n * s->p, s->x + i * s->p, s->p * sizeof *c.x);
        c.y[c.n++] = observation_coded(m, out->centre, out->unit);
    }
    if (censored_fit_once(&c, &prior, NULL, 0, &fit) == 0) {
        out->beta = mem_zero(c.p, sizeof *out->beta);
        for (size_t j = 0; j < c.p; j++)
            out->beta[j] = fit.gamma[j] / fit.h;
        out->sigma = 1 / fit.h;
    }
    censored_fit_free(&fit);
    model_matrix_free(&c);
}

static void set_weights(const struct candidates *s, const double *chance, struct criterion *out)
{
    assert(chance != NULL);
    out->weight = mem_zero(s->p, sizeof *out->weight);
    for (size_t g = 0; g < s->group_count; g++) {
        const struct model_group *group = &s->groups[g].group;
        double c = chance[group->column];

        /* Not ranked, because it never changed: as likely as not. */
        c = isnan(c) ? 0.5 : fmax(c, 0.02);
        for (size_t j = 0; j < group->count; j++)
            out->weight[group->first + j] = c;
    }
}

static double information(const struct criterion *s, const double *x, double stop)
{
    if (s->beta == NULL || isinf(stop))
        return 1;
    return criterion_information((stop - linear_dot(x, s->beta, s->p)) / s->sigma);
}

static void set_matrix(const struct candidates *s, struct criterion *out)
{
    out->matrix = mem_zero(s->p * s->p, sizeof *out->matrix);
    out->inverse = mem_zero(s->p * s->p, sizeof *out->inverse);
    for (size_t j = 0; j < s->p; j++)
        out->matrix[j * (s->p + 1)] = j == 0 ? LEVEL_PRECISION : out->lambda[j];
    for (size_t i = 0; i < s->n; i++) {
        struct measure y = s->f->y[s->rows[i]];
        double stop =
            measure_held(y) && out->beta != NULL ? (y.low - out->centre) / out->unit : out->stop;
        const double *x = s->x + i * s->p;

        add_outer(out->matrix, x, s->p, fmax(MIN_INFORMATION, information(out, x, stop)));
    }
    invert(out);
}

void criterion_make(const struct candidates *s, const struct design_request *request,
                    struct criterion *out)
{
    *out = (struct criterion){.p = s->p, .stop = INFINITY, .unit = 1, .sigma = 1};
    out->g = mem_zero(s->p, sizeof *out->g);
    out->lambda = mem_zero(s->p, sizeof *out->lambda);
    for (size_t g = 0; g < s->group_count; g++)
        for (size_t j = 0; j < s->groups[g].group.count; j++)
            out->lambda[s->groups[g].group.first + j] = s->groups[g].group.lambda;
    if (request->chance != NULL && scale(s, out))
        fit_all(s, out);
    if (out->beta != NULL) {
        set_weights(s, request->chance, out);
        out->stop = (usual_stop(s, request) - out->centre) / out->unit;
    } else {
        out->unit = 1;
    }
    set_matrix(s, out);
}

void criterion_free(struct criterion *s)
{
    free(s->matrix);
    free(s->inverse);
    free(s->weight);
    free(s->beta);
    free(s->lambda);
    free(s->g);
    *s = (struct criterion){0};
}

double criterion_value(const struct criterion *s, const double *x)
{
    double i = information(s, x, s->stop), sum = 0;

    for (size_t j = 0; j < s->p; j++)
        s->g[j] = linear_dot(s->inverse + j * s->p, x, s->p);
    if (s->weight == NULL)
        return i * linear_dot(x, s->g, s->p);
    for (size_t j = 0; j < s->p; j++)
        sum += s->weight[j] * s->g[j] * s->g[j];
    return i * sum / (1 + i * linear_dot(x, s->g, s->p));
}

void criterion_add(struct criterion *s, const double *x, double times)
{
    add_outer(s->matrix, x, s->p, times * information(s, x, s->stop));
    invert(s);
}

double criterion_log_det(const struct criterion *s)
{
    double *factor = mem_zero(s->p * s->p, sizeof *factor), log_det;

    memcpy(factor, s->matrix, s->p * s->p * sizeof *factor);
    linear_cholesky(factor, s->p);
    log_det = linear_cholesky_log_det(factor, s->p);
    free(factor);
    return log_det;
}

double criterion_expected(const struct criterion *s, const double *x)
{
    return s->beta == NULL ? NAN : s->centre + s->unit * linear_dot(x, s->beta, s->p);
}

double criterion_chance_held(const struct criterion *s, const double *x)
{
    double spread = 1;

    if (s->beta == NULL || isinf(s->stop))
        return NAN;
    for (size_t j = 0; j < s->p; j++)
        spread += x[j] * linear_dot(s->inverse + j * s->p, x, s->p);
    return gsl_cdf_ugaussian_Q((s->stop - linear_dot(x, s->beta, s->p)) /
                               (s->sigma * sqrt(spread)));
}

double criterion_deviation(const struct criterion *s, const struct model_group *g)
{
    double trace = 0;

    for (size_t j = g->first; j < g->first + g->count; j++)
        trace += s->inverse[j * (s->p + 1)];
    /* Orthonormal columns: the variances of all L (L - 1) / 2 differences average 2 trace / (L -
     * 1).
     */
    if (g->count > 1)
        trace *= 2 / (double)g->count;
    return s->unit * s->sigma * sqrt(trace);
}
