#include "stats/fit/censored.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/measure.h"
#include "stats/num/linear.h"
#include "stats/num/normal.h"
#include "stats/num/order.h"

#define LOG_2PI 1.83787706640934548356
#define CLOSE 1e-10
#define NARROW 1e-4 /* an interval of less than this many scatters counts as its middle */

enum { MAX_STEPS = 200, MAX_HALVINGS = 60 };

/* One fit while it runs; m = columns + 1, the last place is that of h. */
struct problem {
    const struct censored_data *d;
    const struct censored_prior *prior;
    const struct censored_model *model;
    size_t m;
    double *moments; /* m², of the columns in the fit, results shifted */
    double *theta, *trial, *gradient, *step, *z;
    double *curvature; /* m², minus the second derivatives; lower triangle */
};

/* Moments of (x, −y) for the columns of the model. Shifting y by b·x_c adds b times column c to
 * the last row and column. */
static void pick_moments(const double *from, size_t p, const struct censored_model *model,
                         double *to)
{
    size_t m = model->count + 1, stride = p + 1, c = model->column;
    double b = model->by;

    for (size_t i = 0; i < model->count; i++) {
        const double *row = from + model->columns[i] * stride;

        for (size_t j = 0; j < model->count; j++)
            to[i * m + j] = row[model->columns[j]];
        to[i * m + m - 1] = row[p] + (b != 0 ? b * row[c] : 0);
        to[(m - 1) * m + i] = to[i * m + m - 1];
    }
    to[m * m - 1] = from[stride * stride - 1];
    if (b != 0)
        to[m * m - 1] += 2 * b * from[p * stride + c] + b * b * from[c * stride + c];
}

/* gradient += slope z, curvature += bend z z'. */
static void add_row(const struct problem *q, const double *z, double slope, double bend)
{
    for (size_t i = 0; i < q->m; i++) {
        double scaled = bend * z[i];
        double *row = q->curvature + i * q->m;

        q->gradient[i] += slope * z[i];
        for (size_t j = 0; j <= i; j++)
            row[j] += scaled * z[j];
    }
}

/* z'θ is η − h·limit, the distance above the limit in scatters. */
static double add_one_sided(const struct problem *q, double limit, double sign, double weight)
{
    double s, ratio, bend, value;

    q->z[q->m - 1] = -limit;
    s = sign * linear_dot(q->z, q->theta, q->m);
    value = normal_log_cdf_ratio(s, &ratio);
    bend = fmin(1, fmax(0, ratio * (ratio + s)));
    add_row(q, q->z, sign * weight * ratio, weight * bend);
    return weight * value;
}

/* An interval too narrow to matter: the density at its middle times its width. */
static double add_narrow(const struct problem *q, double low, double high, double weight)
{
    double h = q->theta[q->m - 1], s;

    q->z[q->m - 1] = -0.5 * (low + high);
    s = linear_dot(q->z, q->theta, q->m);
    add_row(q, q->z, -weight * s, weight);
    q->gradient[q->m - 1] += weight / h;
    q->curvature[q->m * q->m - 1] += weight / (h * h);
    return weight * (log(h * (high - low)) - 0.5 * s * s - 0.5 * LOG_2PI);
}

static double add_between(const struct problem *q, double low, double high, double weight)
{
    size_t last = q->m - 1;
    double h = q->theta[last], eta = linear_dot(q->z, q->theta, last);
    double a = h * low - eta, b = h * high - eta, log_p, at_a, at_b;

    if (b - a < NARROW)
        return add_narrow(q, low, high, weight);
    log_p = normal_log_between(a, b);
    at_a = exp(normal_log_density(a) - log_p);
    at_b = exp(normal_log_density(b) - log_p);
    q->z[last] = -high;
    add_row(q, q->z, -weight * at_b, weight * at_b * b);
    q->z[last] = -low;
    add_row(q, q->z, weight * at_a, -weight * at_a * a);
    for (size_t j = 0; j < last; j++) /* and the square of the gradient */
        q->z[j] *= at_a - at_b;
    q->z[last] = at_b * high - at_a * low;
    add_row(q, q->z, 0, weight);
    return weight * log_p;
}

static double add_observation(const struct problem *q, size_t row)
{
    const struct observation *y = &q->d->y[row];
    const double *x = q->d->x + row * q->d->p;
    double shift = q->model->by != 0 ? q->model->by * x[q->model->column] : 0;

    for (size_t j = 0; j < q->model->count; j++)
        q->z[j] = x[q->model->columns[j]];
    if (y->kind == MEASURE_AT_LEAST)
        return add_one_sided(q, y->low - shift, 1, y->weight);
    if (y->kind == MEASURE_AT_MOST)
        return add_one_sided(q, y->high - shift, -1, y->weight);
    return add_between(q, y->low - shift, y->high - shift, y->weight);
}

/* Exact results and prior: quadratic in θ but for log h. */
static double add_quadratic(const struct problem *q)
{
    size_t m = q->m, last = m - 1;
    double h = q->theta[last], exact = q->d->exact, ca = q->prior->ca, cb = q->prior->cb;
    double value = exact * (log(h) - 0.5 * LOG_2PI) + ca * log(h) - cb * h * h;

    for (size_t i = 0; i < m; i++) {
        double slope = linear_dot(q->moments + i * m, q->theta, m);

        value -= 0.5 * slope * q->theta[i];
        q->gradient[i] -= slope;
        for (size_t j = 0; j <= i; j++)
            q->curvature[i * m + j] += q->moments[i * m + j];
    }
    for (size_t i = 0; i < last; i++) {
        double lambda = q->prior->lambda[q->model->columns[i]];

        value -= 0.5 * lambda * q->theta[i] * q->theta[i];
        q->gradient[i] -= lambda * q->theta[i];
        q->curvature[i * m + i] += lambda;
    }
    q->gradient[last] += (exact + ca) / h - 2 * cb * h;
    q->curvature[m * m - 1] += (exact + ca) / (h * h) + 2 * cb;
    return value;
}

/* Log posterior at θ, with gradient and curvature. */
static double evaluate(const struct problem *q)
{
    double value;

    memset(q->gradient, 0, q->m * sizeof *q->gradient);
    memset(q->curvature, 0, q->m * q->m * sizeof *q->curvature);
    value = add_quadratic(q);
    for (size_t i = 0; i < q->d->n; i++)
        value += add_observation(q, i);
    return value;
}

/* Least squares with the prior's ridge on all results taken as numbers. */
static int cold_start(const struct problem *q, double *ridge)
{
    size_t m = q->m, p = m - 1;
    double *all = q->curvature, *right = q->step, squares;

    pick_moments(q->d->points, q->d->p, q->model, all);
    for (size_t i = 0; i < p; i++) {
        for (size_t j = 0; j <= i; j++)
            ridge[i * p + j] = all[i * m + j];
        ridge[i * p + i] += q->prior->lambda[q->model->columns[i]];
        right[i] = -all[i * m + p];
    }
    memcpy(q->theta, right, p * sizeof *right);
    if (linear_cholesky(ridge, p) != 0)
        return -1;
    linear_cholesky_solve(ridge, p, q->theta);
    squares = fmax(0, all[m * m - 1] - linear_dot(q->theta, right, p)) + 2 * q->prior->cb;
    q->theta[p] = sqrt((q->d->total + q->prior->ca) / fmax(squares, 1e-12));
    for (size_t i = 0; i < p; i++)
        q->theta[i] *= q->theta[p];
    return 0;
}

/* Takes the step, shortened until the posterior does not fall; false when none of them helps. */
static bool advance(struct problem *q, double *value)
{
    size_t last = q->m - 1;
    double *before = q->trial, min = 0.05 * q->theta[last], scale = 1, now;

    memcpy(before, q->theta, q->m * sizeof *before);
    if (before[last] + q->step[last] < min)
        scale = (min - before[last]) / q->step[last];
    for (int tries = 0; tries < MAX_HALVINGS; tries++, scale /= 2) {
        for (size_t i = 0; i < q->m; i++)
            q->theta[i] = before[i] + scale * q->step[i];
        now = evaluate(q);
        if (now >= *value - 1e-11 * (1 + fabs(*value))) {
            *value = now;
            return true;
        }
    }
    return false;
}

static int newton(struct problem *q, double *factor, struct censored_fit *fit)
{
    double value = evaluate(q), gain = INFINITY;
    double close = q->model->close > 0 ? q->model->close : CLOSE;

    for (fit->steps = 0; fit->steps < MAX_STEPS && gain > close; fit->steps++) {
        memcpy(factor, q->curvature, q->m * q->m * sizeof *factor);
        memcpy(q->step, q->gradient, q->m * sizeof *q->step);
        if (!isfinite(value) || linear_cholesky(factor, q->m) != 0)
            return -1;
        linear_cholesky_solve(factor, q->m, q->step);
        gain = linear_dot(q->step, q->gradient, q->m);
        if (!isfinite(gain) || !advance(q, &value))
            return -1;
    }
    fit->log_posterior = value;
    return gain <= close ? 0 : -1;
}

/* Curvature in (γ, log h), its factor, and Laplace's approximation. */
static int finish(const struct problem *q, struct censored_fit *fit)
{
    size_t m = q->m, last = m - 1;

    fit->h = q->theta[last];
    memcpy(fit->gamma, q->theta, last * sizeof *fit->gamma);
    for (size_t i = 0; i < m; i++)
        for (size_t j = 0; j <= i; j++) {
            double scale = (i == last ? fit->h : 1) * (j == last ? fit->h : 1);

            fit->hessian[i * m + j] = fit->hessian[j * m + i] = scale * q->curvature[i * m + j];
        }
    memcpy(fit->factor, fit->hessian, m * m * sizeof *fit->factor);
    if (linear_cholesky(fit->factor, m) != 0) {
        fit->h = 0;
        return -1;
    }
    fit->log_evidence = fit->log_posterior + 0.5 * (double)m * LOG_2PI -
                        0.5 * linear_cholesky_log_det(fit->factor, m);
    for (size_t i = 0; i < last; i++) {
        double lambda = q->prior->lambda[q->model->columns[i]];

        if (lambda > 0)
            fit->log_evidence += 0.5 * (log(lambda) - LOG_2PI);
    }
    return 0;
}

static void reserve(struct censored_fit *fit, size_t columns)
{
    size_t m = columns + 1;

    if (columns > fit->capacity) {
        fit->gamma = mem_resize(fit->gamma, m, sizeof(double));
        fit->hessian = mem_resize(fit->hessian, m * m, sizeof(double));
        fit->factor = mem_resize(fit->factor, m * m, sizeof(double));
        fit->work = mem_resize(fit->work, 2 * m * m + 5 * m, sizeof(double));
        fit->capacity = columns;
    }
    fit->p = columns;
}

int censored_fit(const struct censored_data *d, const struct censored_prior *prior,
                 const struct censored_model *model, bool warm, struct censored_fit *fit)
{
    size_t m = model->count + 1;
    struct problem q = {.d = d, .prior = prior, .model = model, .m = m};

    assert(model->count > 0 && model->count <= d->p);
    if (!d->below || !d->above)
        return -1;
    warm = warm && fit->p == model->count && fit->h > 0;
    reserve(fit, model->count);
    q.moments = fit->work;
    q.curvature = q.moments + m * m;
    q.theta = q.curvature + m * m;
    q.trial = q.theta + m;
    q.gradient = q.trial + m;
    q.step = q.gradient + m;
    q.z = q.step + m;
    pick_moments(d->moments, d->p, model, q.moments);
    if (warm) {
        memcpy(q.theta, fit->gamma, model->count * sizeof *q.theta);
        q.theta[model->count] = fit->h;
    }
    fit->h = 0;
    if ((!warm && cold_start(&q, fit->factor) != 0) || newton(&q, fit->factor, fit) != 0)
        return -1;
    return finish(&q, fit);
}

int censored_fit_once(const struct model_matrix *c, const struct censored_prior *prior,
                      const size_t *columns, size_t count, struct censored_fit *fit)
{
    size_t *all = order_identity(c->p);
    struct censored_model model = {.columns = columns != NULL ? columns : all,
                                   .count = columns != NULL ? count : c->p};
    struct censored_data data;
    int rc;

    censored_data_make(c, &data);
    rc = censored_fit(&data, prior, &model, false, fit);
    censored_data_free(&data);
    free(all);
    return rc;
}

double censored_combination(const double *factor, const size_t *columns, size_t count,
                            const double *x, const double *gamma, double h, double *variance)
{
    double *gradient = mem_zero(2 * (count + 1), sizeof *gradient), *solved = gradient + count + 1;
    double mean = 0;

    for (size_t j = 0; j < count; j++) {
        gradient[j] = x[columns[j]] / h;
        mean += gradient[j] * gamma[columns[j]];
    }
    gradient[count] = -mean;
    memcpy(solved, gradient, (count + 1) * sizeof *solved);
    linear_cholesky_solve(factor, count + 1, solved);
    *variance = linear_dot(gradient, solved, count + 1);
    free(gradient);
    return mean;
}

void censored_fit_free(struct censored_fit *fit)
{
    free(fit->gamma);
    free(fit->hessian);
    free(fit->factor);
    free(fit->work);
    *fit = (struct censored_fit){0};
}
