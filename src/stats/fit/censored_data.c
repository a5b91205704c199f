/* What the censored fit needs of a coded frame, and what it says of single results. */
#include "stats/fit/censored.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/normal.h"

static double point(const struct observation *y)
{
    if (y->kind == MEASURE_AT_LEAST)
        return y->low;
    return y->kind == MEASURE_AT_MOST ? y->high : 0.5 * y->low + 0.5 * y->high;
}

/* to += weight z z' with z = (x, −y); p+1 places. */
static void add_moments(double *to, const double *x, size_t p, double y, double weight)
{
    for (size_t i = 0; i <= p; i++) {
        double scaled = weight * (i < p ? x[i] : -y);
        double *row = to + i * (p + 1);

        for (size_t j = 0; j < p; j++)
            row[j] += scaled * x[j];
        row[p] -= scaled * y;
    }
}

void censored_data_make(const struct model_matrix *c, struct censored_data *out)
{
    size_t places = c->p + 1, coarse = 0;

    for (size_t i = 0; i < c->n; i++)
        coarse += c->y[i].kind != MEASURE_EXACT;
    *out = (struct censored_data){.p = c->p,
                                  .moments = mem_zero(places * places, sizeof(double)),
                                  .points = mem_zero(places * places, sizeof(double)),
                                  .x = mem_zero(coarse * c->p, sizeof(double)),
                                  .y = mem_zero(coarse, sizeof(struct observation))};
    for (size_t i = 0; i < c->n; i++) {
        const double *x = c->x + i * c->p;
        double weight = c->y[i].weight;

        out->total += weight;
        out->below |= isfinite(c->y[i].low);
        out->above |= isfinite(c->y[i].high);
        add_moments(out->points, x, c->p, point(&c->y[i]), weight);
        if (c->y[i].kind == MEASURE_EXACT) {
            out->exact += weight;
            add_moments(out->moments, x, c->p, c->y[i].low, weight);
        } else {
            memcpy(out->x + out->n * c->p, x, c->p * sizeof *x);
            out->y[out->n++] = c->y[i];
        }
    }
    out->moments[places * places - 1] += c->within;
    out->points[places * places - 1] += c->within;
}

void censored_data_free(struct censored_data *d)
{
    free(d->moments);
    free(d->points);
    free(d->x);
    free(d->y);
    *d = (struct censored_data){0};
}

double censored_score(const struct observation *y, double mu, double sigma)
{
    double a = (y->low - mu) / sigma, b = (y->high - mu) / sigma, log_p;

    switch (y->kind) {
    case MEASURE_AT_LEAST:
        return normal_ratio(-a);
    case MEASURE_AT_MOST:
        return -normal_ratio(b);
    case MEASURE_BETWEEN:
        log_p = normal_log_between(a, b);
        return exp(normal_log_density(a) - log_p) - exp(normal_log_density(b) - log_p);
    default:
        return a;
    }
}

double censored_expected(const struct observation *y, double mu, double sigma)
{
    return y->kind == MEASURE_EXACT ? y->low : mu + sigma * censored_score(y, mu, sigma);
}
