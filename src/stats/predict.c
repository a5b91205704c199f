#include "stats/predict.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#include "base/mem.h"
#include "stats/censored.h"
#include "stats/linear.h"

#define WORTH 0.001 /* of the heaviest subset */
/* A t distribution of fewer would have no mean; a prior scatter is worth more than that. */
#define LEAST_FREEDOM 1.5

/* Keeps one subset, fitted again for its curvature. */
static void keep_subset(struct predictor *p, const struct subset *s,
                        const struct censored_data *data, const double *lambda,
                        struct censored_fit *fit)
{
    struct censored_prior prior = {lambda, CENSORED_CA, CENSORED_CB};
    size_t *columns = mem_zero(p->c->p, sizeof *columns);
    size_t count = average_columns(p->c, s->groups, columns), m = count + 1;
    struct censored_model model = {.columns = columns, .count = count};

    if (censored_fit(data, &prior, &model, false, fit) != 0) {
        free(columns);
        return;
    }
    p->parts[p->count].weight = s->weight;
    p->parts[p->count].freedom = fmax(LEAST_FREEDOM, 0.5 / (s->log_h_sd * s->log_h_sd));
    p->columns[p->count] = columns;
    p->counts[p->count] = count;
    p->gamma[p->count] = mem_zero(count, sizeof *fit->gamma);
    memcpy(p->gamma[p->count], fit->gamma, count * sizeof *fit->gamma);
    p->factor[p->count] = mem_zero(m * m, sizeof *fit->factor);
    memcpy(p->factor[p->count], fit->factor, m * m * sizeof *fit->factor);
    p->h[p->count++] = fit->h;
}

void predictor_make(const struct coded *c, const struct average *a, struct predictor *out)
{
    double *lambda = mem_zero(c->p, sizeof *lambda), top = 0, sum = 0;
    struct censored_fit fit = {0};
    struct censored_data data;

    *out = (struct predictor){.c = c};
    out->parts = mem_zero(a->count, sizeof *out->parts);
    out->columns = mem_zero(a->count, sizeof *out->columns);
    out->counts = mem_zero(a->count, sizeof *out->counts);
    out->gamma = mem_zero(a->count, sizeof *out->gamma);
    out->factor = mem_zero(a->count, sizeof *out->factor);
    out->h = mem_zero(a->count, sizeof *out->h);
    coded_lambda(c, lambda);
    censored_data_make(c, &data);
    for (size_t i = 0; i < a->count; i++)
        top = fmax(top, a->subsets[i].weight);
    for (size_t i = 0; i < a->count; i++)
        if (a->subsets[i].weight > WORTH * top)
            keep_subset(out, &a->subsets[i], &data, lambda, &fit);
    for (size_t i = 0; i < out->count; i++)
        sum += out->parts[i].weight;
    for (size_t i = 0; i < out->count; i++)
        out->parts[i].weight /= sum;
    censored_fit_free(&fit);
    censored_data_free(&data);
    free(lambda);
}

void predictor_free(struct predictor *p)
{
    for (size_t i = 0; i < p->count; i++) {
        free(p->columns[i]);
        free(p->gamma[i]);
        free(p->factor[i]);
    }
    free(p->parts);
    free(p->columns);
    free(p->counts);
    free(p->gamma);
    free(p->factor);
    free(p->h);
    *p = (struct predictor){0};
}

/* Mean x'γ/h; its variance from the gradient (x/h, −mean) in (γ, log h), added to the scatter. */
static void predict_part(const struct predictor *p, size_t at, const double *x,
                         struct prediction_part *out)
{
    size_t count = p->counts[at];
    double *gradient = mem_zero(count + 1, sizeof *gradient);
    double *solved = mem_zero(count + 1, sizeof *solved), variance = 0;

    *out = p->parts[at];
    out->mean = 0;
    for (size_t j = 0; j < count; j++) {
        gradient[j] = x[p->columns[at][j]] / p->h[at];
        out->mean += gradient[j] * p->gamma[at][j];
    }
    gradient[count] = -out->mean;
    memcpy(solved, gradient, (count + 1) * sizeof *solved);
    linear_cholesky_solve(p->factor[at], count + 1, solved);
    for (size_t j = 0; j <= count; j++)
        variance += gradient[j] * solved[j];
    out->scale = sqrt(1 / (p->h[at] * p->h[at]) + variance);
    free(gradient);
    free(solved);
}

void predict(const struct predictor *p, const double *x, struct prediction *out)
{
    *out = (struct prediction){.count = p->count, .centre = p->c->centre, .unit = p->c->unit};
    out->parts = mem_zero(p->count, sizeof *out->parts);
    for (size_t i = 0; i < p->count; i++)
        predict_part(p, i, x, &out->parts[i]);
}

void prediction_free(struct prediction *p)
{
    free(p->parts);
    *p = (struct prediction){0};
}

double prediction_mean(const struct prediction *p)
{
    double sum = 0;

    for (size_t i = 0; i < p->count; i++)
        sum += p->parts[i].weight * p->parts[i].mean;
    return p->centre + p->unit * sum;
}

double prediction_below(const struct prediction *p, double result)
{
    double sum = 0, coded = (result - p->centre) / p->unit;

    for (size_t i = 0; i < p->count; i++) {
        const struct prediction_part *q = &p->parts[i];

        sum += q->weight * gsl_cdf_tdist_P((coded - q->mean) / q->scale, q->freedom);
    }
    return sum;
}

double prediction_point(const struct prediction *p, double part)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < p->count; i++) {
        const struct prediction_part *q = &p->parts[i];
        double at = q->mean + q->scale * gsl_cdf_tdist_Pinv(part, q->freedom);

        low = fmin(low, at);
        high = fmax(high, at);
    }
    low = p->centre + p->unit * low;
    high = p->centre + p->unit * high;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;

        *(prediction_below(p, middle) < part ? &low : &high) = middle;
    }
    return (low + high) / 2;
}
