#include "stats/fit/effect.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_spline.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "stats/num/guard.h"
#include "stats/num/interval.h"
#include "stats/num/linear.h"

#define MIN_WEIGHT 0.005 /* of the heaviest subset */
#define BOTTOM 1e-4      /* of the height of the density */
#define STEP 0.5         /* in standard errors */
#define NEWTON_GAIN 1e-4 /* Newton's method doubles the digits once more after this */

/* EVEN_POINTS: from there on the steps widen. FINER: points put between two by interpolation. */
enum { MAX_POINTS = 200, EVEN_POINTS = 20, FINER = 8, MAX_SUBMODELS = 128 };

/* One subset that holds the group, without the column whose coefficient is fixed. */
struct submodel {
    size_t *columns, count;
    double log_prior; /* evidence less that of the data: prior of the subset */
    double log_evidence, mean, variance;
    struct censored_fit fit;
};

struct profile {
    const struct model_matrix *c;
    const struct model_group *group;
    struct censored_data data; /* the group rotated so that its first column is the direction */
    double length;             /* of the direction */
    struct submodel *submodels;
    size_t submodel_count;
    double *at, *log_density; /* points of the profile, unordered */
    size_t count, capacity, density_capacity;
};

void effect_direction(const struct model_group *g, size_t from, size_t to, double *direction)
{
    double *low = mem_zero(g->count, sizeof *low);

    model_matrix_level(g, from, low);
    model_matrix_level(g, to, direction);
    for (size_t j = 0; j < g->count; j++)
        direction[j] -= low[j];
    free(low);
}

/* Reflects `count` numbers `step` apart in the plane across w: v −= 2 w (w'v). */
static void reflect(double *v, size_t step, const double *w, size_t count)
{
    double along = 0;

    for (size_t j = 0; j < count; j++)
        along += w[j] * v[j * step];
    for (size_t j = 0; j < count; j++)
        v[j * step] -= 2 * along * w[j];
}

/* Rotates the columns of the group by a Householder reflection that takes the first axis to the
 * direction. The prior is unchanged: λ is the same in all of them. */
static void rotate_group(struct profile *k, const double *direction)
{
    size_t count = k->group->count, first = k->group->first, places = k->data.p + 1;
    double *w = mem_zero(count, sizeof *w), squares = 0;

    for (size_t j = 0; j < count; j++) {
        w[j] = direction[j] / k->length - (j == 0);
        squares += w[j] * w[j];
    }
    for (size_t j = 0; j < count && squares > 0; j++)
        w[j] /= sqrt(squares);
    for (size_t i = 0; i < k->data.n && squares > 0; i++)
        reflect(k->data.x + i * k->data.p + first, 1, w, count);
    for (size_t i = 0; i < places && squares > 0; i++) {
        reflect(k->data.moments + i * places + first, 1, w, count);
        reflect(k->data.points + i * places + first, 1, w, count);
    }
    for (size_t i = 0; i < places && squares > 0; i++) {
        reflect(k->data.moments + first * places + i, places, w, count);
        reflect(k->data.points + first * places + i, places, w, count);
    }
    free(w);
}

/* Mean and variance of gradient'(γ, log h) under a normal with this Cholesky factor. */
static double quadratic_variance(const double *factor, size_t m, double *gradient)
{
    double variance = 0;
    double *copy = mem_zero(m, sizeof *copy);

    memcpy(copy, gradient, m * sizeof *copy);
    linear_cholesky_solve(factor, m, copy);
    for (size_t i = 0; i < m; i++)
        variance += copy[i] * gradient[i];
    free(copy);
    return variance;
}

/* β = direction'γ/h: its gradient in (γ, log h) is (direction/h, −β). */
static double effect_variance(const struct model_matrix *c, const struct model_group *g,
                              const double *direction, const struct subset *s,
                              const size_t *columns, size_t count, const double *factor)
{
    double *gradient = mem_zero(c->p + 1, sizeof *gradient), beta = 0, variance;

    for (size_t i = 0; i < count; i++)
        if (columns[i] >= g->first && columns[i] < g->first + g->count) {
            gradient[i] = direction[columns[i] - g->first] / s->h;
            beta += gradient[i] * s->gamma[columns[i]];
        }
    gradient[count] = -beta;
    variance = quadratic_variance(factor, count + 1, gradient);
    free(gradient);
    return variance;
}

static double subset_mean(const struct model_group *g, const double *direction,
                          const struct subset *s)
{
    double mean = 0;

    for (size_t j = 0; j < g->count; j++)
        mean += direction[j] * s->gamma[g->first + j] / s->h;
    return mean;
}

static int heavier_first(const void *a, const void *b, void *average)
{
    const struct subset *s = ((const struct model_average *)average)->subsets;
    double u = s[*(const size_t *)a].log_evidence, v = s[*(const size_t *)b].log_evidence;

    return u > v ? -1 : u < v;
}

/* Subsets that hold the group, heaviest first; returns how many. */
static size_t list_subsets(const struct model_average *a, uint64_t bit, size_t *list)
{
    size_t count = 0;

    for (size_t i = 0; i < a->count; i++)
        if (a->subsets[i].groups & bit)
            list[count++] = i;
    qsort_r(list, count, sizeof *list, heavier_first, (void *)a);
    return count;
}

/* One subset with mean and variance of the difference; its columns less the one to be fixed. */
static void make_submodel(const struct profile *k, const struct model_average *a,
                          const struct subset *s, const double *direction,
                          struct submodel *submodel)
{
    size_t m = k->c->p + 1, count;
    double *factor = mem_zero(m * m, sizeof *factor);

    submodel->columns = mem_zero(m, sizeof *submodel->columns);
    count = model_matrix_columns(k->c, s->groups, submodel->columns);
    submodel->mean = subset_mean(k->group, direction, s);
    submodel->log_evidence = s->log_evidence;
    submodel->log_prior = s->log_prior;
    if (model_average_factor(a, k->c, &k->data, submodel->columns, count, &submodel->fit, factor) ==
        0)
        submodel->variance =
            effect_variance(k->c, k->group, direction, s, submodel->columns, count, factor);
    else
        submodel->log_evidence = -INFINITY;
    for (size_t j = 0; j < count; j++)
        if (submodel->columns[j] != k->group->first)
            submodel->columns[submodel->count++] = submodel->columns[j];
    free(factor);
}

/* Keeps the subsets heavy enough to matter. */
static void make_submodels(struct profile *k, const struct model_average *a, uint64_t bit,
                           const double *direction)
{
    size_t *list = mem_zero(a->count, sizeof *list), count = list_subsets(a, bit, list);
    double top = count > 0 ? a->subsets[list[0]].log_evidence : -INFINITY;

    k->submodels = mem_zero(MAX_SUBMODELS, sizeof *k->submodels);
    for (size_t i = 0; i < count && i < MAX_SUBMODELS; i++) {
        const struct subset *s = &a->subsets[list[i]];

        if (!(s->log_evidence >= top + log(MIN_WEIGHT)))
            break;
        make_submodel(k, a, s, direction, &k->submodels[k->submodel_count++]);
        k->submodels[i].log_evidence -= top;
    }
    free(list);
}

/* Log of the averaged density at b, up to a constant. */
static double log_density(struct profile *k, double b)
{
    double by = b / k->length, lambda = k->c->lambda[k->group->first], top = -INFINITY, sum = 0;
    struct censored_prior prior = {k->c->lambda, CENSORED_CA + 1,
                                   CENSORED_CB + 0.5 * lambda * by * by};

    for (size_t i = 0; i < k->submodel_count; i++) {
        struct submodel *s = &k->submodels[i];
        struct censored_model model = {s->columns, s->count, k->group->first, by, NEWTON_GAIN};

        s->log_evidence = -INFINITY;
        if (censored_fit(&k->data, &prior, &model, true, &s->fit) == 0)
            s->log_evidence = s->fit.log_evidence + s->log_prior;
        top = fmax(top, s->log_evidence);
    }
    for (size_t i = 0; i < k->submodel_count && top > -INFINITY; i++)
        sum += exp(k->submodels[i].log_evidence - top);
    return top + log(sum);
}

static double add_point(struct profile *k, double b)
{
    double value = log_density(k, b);

    k->at = array_reserve(k->at, &k->capacity, k->count + 1, sizeof *k->at);
    k->log_density =
        array_reserve(k->log_density, &k->density_capacity, k->count + 1, sizeof *k->log_density);
    k->at[k->count] = b;
    k->log_density[k->count++] = value;
    return value;
}

/* Adds points from `start` in steps of `step` (either sign) until the density falls below BOTTOM of
 * its peak. */
static void extend_profile(struct profile *k, double start, double step, double *top)
{
    double b = start, value;

    for (int i = 0; i < MAX_POINTS; i++) {
        b += step;
        value = add_point(k, b);
        *top = fmax(*top, value);
        if (!(value > *top + log(BOTTOM)))
            return;
        if (i >= EVEN_POINTS)
            step *= 1.1; /* a long tail needs no finer steps than its own scale */
    }
}

/* Sorts the points by place: first half came in falling order, second in rising. */
static void order_points(struct profile *k, size_t falling)
{
    for (size_t i = 0; i < falling / 2; i++) {
        size_t j = falling - 1 - i;
        double at = k->at[i], value = k->log_density[i];

        k->at[i] = k->at[j];
        k->at[j] = at;
        k->log_density[i] = k->log_density[j];
        k->log_density[j] = value;
    }
}

/* Point below which `part` of the trapezoids' area lies. */
static double area_point(const struct profile *k, const double *density, double area, double part)
{
    double left = part * area;

    for (size_t i = 1; i < k->count; i++) {
        double width = k->at[i] - k->at[i - 1], d0 = density[i - 1], d1 = density[i];
        double here = 0.5 * (d0 + d1) * width, root;

        if (here < left) {
            left -= here;
            continue;
        }
        root = sqrt(fmax(0, d0 * d0 + 2 * left * (d1 - d0) / width));
        return k->at[i - 1] + (d0 + root > 0 ? 2 * left / (d0 + root) : 0);
    }
    return k->at[k->count - 1];
}

static void read_density(const struct profile *k, double top, struct effect_range *out)
{
    double *density = mem_zero(k->count, sizeof *density), area = 0, above = 0, moment = 0;

    for (size_t i = 0; i < k->count; i++)
        density[i] = exp(k->log_density[i] - top);
    for (size_t i = 1; i < k->count; i++) {
        double a = k->at[i - 1], b = k->at[i], width = b - a;
        double here = 0.5 * (density[i - 1] + density[i]) * width;

        area += here;
        moment += 0.5 * (density[i - 1] * a + density[i] * b) * width;
        above += here * fmin(1, fmax(0, b / width)); /* part of the step above 0 */
    }
    out->low = area_point(k, density, area, INTERVAL_LOW);
    out->high = area_point(k, density, area, INTERVAL_HIGH);
    out->mean = moment / area;
    out->positive = above / area;
    free(density);
}

/* Adds points between by a cubic spline through the log density. */
static void refine(struct profile *k)
{
    size_t count = (k->count - 1) * FINER + 1;
    gsl_spline *spline = guard_block(gsl_spline_alloc(gsl_interp_cspline, k->count));
    double *at = mem_zero(count, sizeof *at), *value = mem_zero(count, sizeof *value);

    gsl_spline_init(spline, k->at, k->log_density, k->count);
    for (size_t i = 0; i < count; i++) {
        size_t left = i / FINER;
        double part = (double)(i % FINER) / FINER;

        at[i] = left + 1 < k->count ? k->at[left] + part * (k->at[left + 1] - k->at[left])
                                    : k->at[left];
        value[i] = gsl_spline_eval(spline, at[i], NULL);
    }
    gsl_spline_free(spline);
    free(k->at);
    free(k->log_density);
    k->at = at;
    k->log_density = value;
    k->count = count;
}

static bool profile_is_whole(const struct profile *k)
{
    for (size_t i = 0; i < k->count; i++)
        if (!isfinite(k->log_density[i]))
            return false;
    return k->count >= 3;
}

static void profile_density(struct profile *k, double mean, double error, struct effect_range *out)
{
    double top = -INFINITY;
    size_t falling;

    extend_profile(k, mean, -STEP * error, &top);
    falling = k->count;
    order_points(k, falling);
    top = fmax(top, add_point(k, mean));
    extend_profile(k, mean, STEP * error, &top);
    if (profile_is_whole(k)) {
        refine(k);
        read_density(k, top, out);
    }
}

static double mixture_below(const struct profile *k, double b)
{
    double sum = 0, weights = 0;

    for (size_t i = 0; i < k->submodel_count; i++) {
        const struct submodel *s = &k->submodels[i];
        double weight = exp(s->log_evidence);

        weights += weight;
        sum += weight * gsl_cdf_ugaussian_P((b - s->mean) / sqrt(s->variance));
    }
    return sum / weights;
}

static double mixture_point(const struct profile *k, double part, double middle, double error)
{
    double low = middle - 40 * error, high = middle + 40 * error;

    for (int i = 0; i < 100; i++) {
        double b = 0.5 * (low + high);

        *(mixture_below(k, b) < part ? &low : &high) = b;
    }
    return 0.5 * (low + high);
}

/* Mean and standard deviation of the mixture of the submodels. */
static void mixture_moments(const struct profile *k, double *mean, double *error)
{
    double sum = 0, first = 0, second = 0;

    for (size_t i = 0; i < k->submodel_count; i++) {
        const struct submodel *s = &k->submodels[i];
        double weight = exp(s->log_evidence);

        sum += weight;
        first += weight * s->mean;
        second += weight * (s->variance + s->mean * s->mean);
    }
    *mean = first / sum;
    *error = sqrt(fmax(0, second / sum - *mean * *mean));
}

static void profile_free(struct profile *k)
{
    for (size_t i = 0; i < k->submodel_count; i++) {
        free(k->submodels[i].columns);
        censored_fit_free(&k->submodels[i].fit);
    }
    free(k->submodels);
    free(k->at);
    free(k->log_density);
    censored_data_free(&k->data);
}

void effect_range_make(const struct model_matrix *c, const struct model_average *a, size_t group,
                       const double *direction, struct effect_range *out)
{
    struct profile k = {.c = c, .group = &c->groups[group]};
    double mean, error;

    assert(group < c->group_count && group < 64);
    *out = (struct effect_range){NAN, NAN, NAN, NAN};
    for (size_t j = 0; j < k.group->count; j++)
        k.length = hypot(k.length, direction[j]);
    censored_data_make(c, &k.data);
    make_submodels(&k, a, (uint64_t)1 << group, direction);
    if (k.submodel_count > 0) {
        mixture_moments(&k, &mean, &error);
        if (a->approximated) {
            *out = (struct effect_range){mixture_point(&k, INTERVAL_LOW, mean, error),
                                         mixture_point(&k, INTERVAL_HIGH, mean, error), mean,
                                         1 - mixture_below(&k, 0)};
        } else {
            rotate_group(&k, direction);
            profile_density(&k, mean, error, out);
        }
    }
    profile_free(&k);
}
