#include "stats/fit/predict.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#include "base/mem.h"
#include "stats/fit/censored.h"

#define MIN_WEIGHT 0.001 /* of the heaviest subset */
/* A t distribution needs more than 1 for a mean; the prior of the scatter gives more than that. */
#define MIN_FREEDOM 1.5

static void keep_subset(struct predictor *p, const struct subset *s,
                        const struct censored_data *data, struct censored_fit *fit)
{
    struct censored_prior prior = {p->c->lambda, CENSORED_CA, CENSORED_CB};
    struct predictor_part *part = &p->parts[p->count];
    size_t *columns = mem_zero(p->c->p, sizeof *columns);
    size_t count = model_matrix_columns(p->c, s->groups, columns), m = count + 1;
    struct censored_model model = {.columns = columns, .count = count};

    if (censored_fit(data, &prior, &model, false, fit) != 0) {
        free(columns);
        return;
    }
    *part = (struct predictor_part){
        .weight = s->weight,
        .freedom = fmax(MIN_FREEDOM, 0.5 / (s->log_h_sd * s->log_h_sd)),
        .h = fit->h,
        .columns = columns,
        .count = count,
        .gamma = mem_zero(p->c->p, sizeof(double)),
        .factor = memcpy(mem_zero(m * m, sizeof(double)), fit->factor, m * m * sizeof(double)),
    };
    for (size_t j = 0; j < count; j++)
        part->gamma[columns[j]] = fit->gamma[j];
    p->count++;
}

void predictor_make(const struct model_matrix *c, const struct model_average *a,
                    struct predictor *out)
{
    double top = 0, sum = 0;
    struct censored_fit fit = {0};
    struct censored_data data;

    *out = (struct predictor){.c = c, .parts = mem_zero(a->count, sizeof *out->parts)};
    censored_data_make(c, &data);
    for (size_t i = 0; i < a->count; i++)
        top = fmax(top, a->subsets[i].weight);
    for (size_t i = 0; i < a->count; i++)
        if (a->subsets[i].weight > MIN_WEIGHT * top)
            keep_subset(out, &a->subsets[i], &data, &fit);
    for (size_t i = 0; i < out->count; i++)
        sum += out->parts[i].weight;
    for (size_t i = 0; i < out->count; i++)
        out->parts[i].weight /= sum;
    censored_fit_free(&fit);
    censored_data_free(&data);
}

void predictor_free(struct predictor *p)
{
    for (size_t i = 0; i < p->count; i++) {
        free(p->parts[i].columns);
        free(p->parts[i].gamma);
        free(p->parts[i].factor);
    }
    free(p->parts);
    *p = (struct predictor){0};
}

/* The uncertainty of the mean is added to the scatter. */
void predict(const struct predictor *p, const double *x, struct prediction *out)
{
    *out = (struct prediction){.count = p->count, .centre = p->c->centre, .unit = p->c->unit};
    out->parts = mem_zero(p->count, sizeof *out->parts);
    for (size_t i = 0; i < p->count; i++) {
        const struct predictor_part *from = &p->parts[i];
        double variance, mean = censored_combination(from->factor, from->columns, from->count, x,
                                                     from->gamma, from->h, &variance);

        out->parts[i] = (struct prediction_part){
            from->weight, mean, sqrt(1 / (from->h * from->h) + variance), from->freedom};
    }
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
    double sum = 0, y_coded = (result - p->centre) / p->unit;

    for (size_t i = 0; i < p->count; i++) {
        const struct prediction_part *q = &p->parts[i];

        sum += q->weight * gsl_cdf_tdist_P((y_coded - q->mean) / q->scale, q->freedom);
    }
    return sum;
}

/* Goes out from `at` in doubling steps until the chance below lies on the other side of `part`.
 * Returns what is missing there; it has the sign of -step. */
static double expand_bracket(const struct prediction *p, double part, double step, double *at)
{
    double missing = prediction_below(p, *at) - part;

    for (int i = 0; i < 200 && missing * step < 0; i++, step *= 2) {
        *at += step;
        missing = prediction_below(p, *at) - part;
    }
    return missing;
}

double prediction_point(const struct prediction *p, double part)
{
    double middle = prediction_mean(p), low = middle, high = middle, step = p->unit, under, over;
    int last = 0;

    under = expand_bracket(p, part, -step, &low);
    over = expand_bracket(p, part, step, &high);
    /* False position; the end that stays is weighted by half (Illinois). */
    for (int i = 0; i < 200 && high - low > 1e-9 * step && under < 0 && over > 0; i++) {
        double missing;

        middle = (low * over - high * under) / (over - under);
        missing = prediction_below(p, middle) - part;
        if (missing < 0) {
            low = middle;
            under = missing;
            over *= last < 0 ? 0.5 : 1;
            last = -1;
        } else {
            high = middle;
            over = missing;
            under *= last > 0 ? 0.5 : 1;
            last = 1;
        }
        if (missing == 0)
            return middle;
    }
    return under == 0 ? low : over == 0 ? high : (low + high) / 2;
}
