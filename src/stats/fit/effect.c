#include "stats/fit/effect.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_spline.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/guard.h"
#include "stats/num/interval.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"

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

/* The averaged log density at one value of the effect, up to a constant. */
struct point {
    double at, log_density;
};

struct profile {
    const struct model_matrix *c;
    const struct model_group *group;
    struct censored_data data; /* the group rotated so that its first column is the direction */
    double length;             /* of the direction */
    struct submodel *submodels;
    size_t submodel_count;
    struct point *points; /* room for 2 × MAX_POINTS + 1 */
    size_t count;
    bool broken; /* at some point there is no density */
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

/* The rows, then the columns of a square matrix, from `first` on. */
static void reflect_both(double *m, size_t places, size_t first, const double *w, size_t count)
{
    for (size_t i = 0; i < places; i++)
        reflect(m + i * places + first, 1, w, count);
    for (size_t i = 0; i < places; i++)
        reflect(m + first * places + i, places, w, count);
}

/* Rotates the columns of the group by a Householder reflection that takes the first axis to the
 * direction. The prior is unchanged: λ is the same in all of them. */
static void rotate_group(struct profile *k, const double *direction)
{
    size_t count = k->group->count, first = k->group->first, places = k->data.p + 1;
    double *w = mem_zero(count, sizeof *w), length = 0;

    for (size_t j = 0; j < count; j++) {
        w[j] = direction[j] / k->length - (j == 0);
        length = hypot(length, w[j]);
    }
    if (length > 0) {
        for (size_t j = 0; j < count; j++)
            w[j] /= length;
        for (size_t i = 0; i < k->data.n; i++)
            reflect(k->data.x + i * k->data.p + first, 1, w, count);
        reflect_both(k->data.moments, places, first, w, count);
        reflect_both(k->data.points, places, first, w, count);
    }
    free(w);
}

static int heavier_first(const void *a, const void *b, void *average)
{
    const struct subset *s = ((const struct model_average *)average)->subsets;

    return ORDER(s[*(const size_t *)b].log_evidence, s[*(const size_t *)a].log_evidence);
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
    double *factor = mem_zero(m * m, sizeof *factor), *x = mem_zero(m, sizeof *x);

    submodel->columns = mem_zero(m, sizeof *submodel->columns);
    count = model_matrix_columns(k->c, s->groups, submodel->columns);
    memcpy(x + k->group->first, direction, k->group->count * sizeof *x);
    submodel->log_evidence = -INFINITY;
    submodel->log_prior = s->log_prior;
    if (model_average_factor(a, k->c, &k->data, submodel->columns, count, &submodel->fit, factor) ==
        0) {
        submodel->log_evidence = s->log_evidence;
        submodel->mean = censored_combination(factor, submodel->columns, count, x, s->gamma, s->h,
                                              &submodel->variance);
    }
    for (size_t j = 0; j < count; j++)
        if (submodel->columns[j] != k->group->first)
            submodel->columns[submodel->count++] = submodel->columns[j];
    free(factor);
    free(x);
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

    k->points[k->count++] = (struct point){b, value};
    k->broken = k->broken || !isfinite(value);
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

/* Point below which `part` of the trapezoids' area lies. */
static double area_point(const double *at, const double *density, size_t count, double left)
{
    for (size_t i = 1; i < count; i++) {
        double width = at[i] - at[i - 1], d0 = density[i - 1], d1 = density[i];
        double here = 0.5 * (d0 + d1) * width, root;

        if (here < left) {
            left -= here;
            continue;
        }
        root = sqrt(fmax(0, d0 * d0 + 2 * left * (d1 - d0) / width));
        return at[i - 1] + (d0 + root > 0 ? 2 * left / (d0 + root) : 0);
    }
    return at[count - 1];
}

/* The density at FINER places between two points, by a cubic spline through its logarithm; returns
 * the area under it. */
static double refine(const struct profile *k, double top, double *at, double *density)
{
    size_t count = (k->count - 1) * FINER + 1;
    gsl_spline *spline = guard_block(gsl_spline_alloc(gsl_interp_cspline, k->count));
    double area = 0;

    for (size_t i = 0; i < k->count; i++) { /* at and density hold the points for a moment */
        at[i] = k->points[i].at;
        density[i] = k->points[i].log_density;
    }
    gsl_spline_init(spline, at, density, k->count);
    for (size_t i = 0; i < count; i++) {
        const struct point *left = &k->points[i / FINER];
        double part = (double)(i % FINER) / FINER;

        at[i] = part > 0 ? left->at + part * (left[1].at - left->at) : left->at;
        density[i] = exp(gsl_spline_eval(spline, at[i], NULL) - top);
        if (i > 0)
            area += 0.5 * (density[i - 1] + density[i]) * (at[i] - at[i - 1]);
    }
    gsl_spline_free(spline);
    return area;
}

static void read_density(const struct profile *k, double top, struct effect_range *out)
{
    size_t count = (k->count - 1) * FINER + 1;
    double *at = mem_zero(count, sizeof *at), *density = mem_zero(count, sizeof *density);
    double area = refine(k, top, at, density);

    out->low = area_point(at, density, count, INTERVAL_LOW * area);
    out->high = area_point(at, density, count, INTERVAL_HIGH * area);
    free(at);
    free(density);
}

static void profile_density(struct profile *k, double mean, double error, struct effect_range *out)
{
    double top = -INFINITY;

    k->points = mem_zero(2 * MAX_POINTS + 1, sizeof *k->points);
    extend_profile(k, mean, -STEP * error, &top);
    top = fmax(top, add_point(k, mean));
    extend_profile(k, mean, STEP * error, &top);
    if (!k->broken) {
        order_by_number(k->points, k->count, sizeof *k->points);
        read_density(k, top, out);
    }
    free(k->points);
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
    censored_data_free(&k->data);
}

void effect_range_make(const struct model_matrix *c, const struct model_average *a, size_t group,
                       const double *direction, struct effect_range *out)
{
    struct profile k = {.c = c, .group = &c->groups[group]};
    double mean, error;

    assert(group < c->group_count && group < 64);
    *out = (struct effect_range){NAN, NAN};
    for (size_t j = 0; j < k.group->count; j++)
        k.length = hypot(k.length, direction[j]);
    censored_data_make(c, &k.data);
    make_submodels(&k, a, (uint64_t)1 << group, direction);
    if (k.submodel_count > 0) {
        mixture_moments(&k, &mean, &error);
        if (a->approximated) {
            out->low = mixture_point(&k, INTERVAL_LOW, mean, error);
            out->high = mixture_point(&k, INTERVAL_HIGH, mean, error);
        } else {
            rotate_group(&k, direction);
            profile_density(&k, mean, error, out);
        }
    }
    profile_free(&k);
}
