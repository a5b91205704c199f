#include "stats/design/criterion.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>

#include "base/mem.h"
#include "stats/fit/censored.h"
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

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
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

static size_t observe(const struct candidates *s, const struct criterion *score, double *x,
                      struct observation *y)
{
    size_t n = 0;

    for (size_t i = 0; i < s->n; i++) {
        struct measure m = s->f->y[s->rows[i]];

        if (!measure_known(m))
            continue;
        memcpy(x + n * s->p, s->x + i * s->p, s->p * sizeof *x);
        y[n++] = (struct observation){m.kind, (m.low - score->centre) / score->unit,
                                      (m.high - score->centre) / score->unit, 1};
    }
    return n;
}

/* The fit of all p columns; beta stays NULL when there is no maximum. */
static void fit_all(const struct model_matrix *c, const double *lambda, struct criterion *out)
{
    struct censored_prior prior = {lambda, CENSORED_CA, CENSORED_CB};
    size_t *columns = mem_zero(c->p, sizeof *columns);
    struct censored_model model = {.columns = columns, .count = c->p};
    struct censored_data data;
    struct censored_fit fit = {0};

    for (size_t j = 0; j < c->p; j++)
        columns[j] = j;
    censored_data_make(c, &data);
    if (censored_fit(&data, &prior, &model, false, &fit) == 0) {
        out->beta = mem_zero(c->p, sizeof *out->beta);
        for (size_t j = 0; j < c->p; j++)
            out->beta[j] = fit.gamma[j] / fit.h;
        out->sigma = 1 / fit.h;
    }
    censored_fit_free(&fit);
    censored_data_free(&data);
    free(columns);
}

/* The full model: every variable in, with the prior of the ranking. */
static void fit(const struct candidates *s, struct criterion *out)
{
    double *x = mem_zero(s->n * s->p, sizeof *x), *lambda = mem_zero(s->p, sizeof *lambda);
    struct observation *y = mem_zero(s->n, sizeof *y);
    struct model_matrix c = {
        .n = observe(s, out, x, y), .p = s->p, .x = x, .y = y, .unit = out->unit};

    for (size_t g = 0; g < s->group_count; g++)
        for (size_t j = 0; j < s->groups[g].group.count; j++)
            lambda[s->groups[g].group.first + j] = s->groups[g].group.lambda;
    fit_all(&c, lambda, out);
    free(x);
    free(lambda);
    free(y);
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
    return criterion_information((stop - dot(x, s->beta, s->p)) / s->sigma);
}

static void set_matrix(const struct candidates *s, struct criterion *out)
{
    out->matrix = mem_zero(s->p * s->p, sizeof *out->matrix);
    out->inverse = mem_zero(s->p * s->p, sizeof *out->inverse);
    out->matrix[0] = LEVEL_PRECISION;
    for (size_t g = 0; g < s->group_count; g++)
        for (size_t j = 0; j < s->groups[g].group.count; j++)
            out->matrix[(s->groups[g].group.first + j) * (s->p + 1)] = s->groups[g].group.lambda;
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
    if (request->chance != NULL && scale(s, out))
        fit(s, out);
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
    free(s->g);
    *s = (struct criterion){0};
}

double criterion_value(const struct criterion *s, const double *x)
{
    double i = information(s, x, s->stop), sum = 0;

    for (size_t j = 0; j < s->p; j++)
        s->g[j] = dot(s->inverse + j * s->p, x, s->p);
    if (s->weight == NULL)
        return i * dot(x, s->g, s->p);
    for (size_t j = 0; j < s->p; j++)
        sum += s->weight[j] * s->g[j] * s->g[j];
    return i * sum / (1 + i * dot(x, s->g, s->p));
}

void criterion_add(struct criterion *s, const double *x)
{
    add_outer(s->matrix, x, s->p, information(s, x, s->stop));
    invert(s);
}

void criterion_remove(struct criterion *s, const double *x)
{
    add_outer(s->matrix, x, s->p, -information(s, x, s->stop));
    invert(s);
}

double criterion_log_det(const struct criterion *s)
{
    double *copy = mem_zero(s->p * s->p, sizeof *copy), sum = 0;
    gsl_matrix_view m = gsl_matrix_view_array(copy, s->p, s->p);

    memcpy(copy, s->matrix, s->p * s->p * sizeof *copy);
    gsl_linalg_cholesky_decomp1(&m.matrix);
    for (size_t j = 0; j < s->p; j++)
        sum += 2 * log(copy[j * (s->p + 1)]);
    free(copy);
    return sum;
}

double criterion_expected(const struct criterion *s, const double *x)
{
    return s->beta == NULL ? NAN : s->centre + s->unit * dot(x, s->beta, s->p);
}

double criterion_chance_held(const struct criterion *s, const double *x)
{
    double spread = 1;

    if (s->beta == NULL || isinf(s->stop))
        return NAN;
    for (size_t j = 0; j < s->p; j++)
        spread += x[j] * dot(s->inverse + j * s->p, x, s->p);
    return gsl_cdf_ugaussian_Q((s->stop - dot(x, s->beta, s->p)) / (s->sigma * sqrt(spread)));
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
