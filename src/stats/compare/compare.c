#include "stats/compare/compare.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "stats/data/model_matrix.h"
#include "stats/fit/effect.h"
#include "stats/fit/model_average.h"
#include "stats/num/interval.h"
#include "stats/num/order.h"

enum { EVERY_PAIR_UP_TO = 4 };

static void group_free(struct compare_group *g)
{
    free(g->label);
    free(g->rows);
    survival_free(&g->steps);
}

void comparison_free(struct comparison *c)
{
    group_free(&c->a);
    group_free(&c->b);
    *c = (struct comparison){0};
}

void comparison_list_free(struct comparison_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        comparison_free(&list->items[i]);
    free(list->items);
    *list = (struct comparison_list){0};
}

/* The results of a group, in the order of its rows. */
static struct measure *results(const struct frame *f, const struct compare_group *g)
{
    struct measure *y = mem_zero(g->count, sizeof *y);

    for (size_t i = 0; i < g->count; i++)
        y[i] = f->y[g->rows[i]];
    return y;
}

static int fill_group(const struct frame *f, const size_t *rows, size_t count, const char *label,
                      struct compare_group *g, struct error *e)
{
    double sum = 0;

    g->label = mem_copy(label);
    g->rows = mem_zero(count, sizeof *g->rows);
    for (size_t i = 0; i < count; i++) {
        struct measure y = f->y[rows[i]];

        if (!measure_known(y))
            continue;
        g->rows[g->count++] = rows[i];
        g->broke += y.kind == MEASURE_EXACT;
        g->held += measure_held(y);
        sum += y.low;
    }
    g->plain_mean = g->broke == g->count ? sum / (double)g->count : NAN;
    g->mean = NAN;
    if (g->count == 0)
        return error_set(e, ERROR_ANSWER, "no coupon with a result on the side \"%s\"; %s", label,
                         count == 0 ? "weld one" : "fold one and write down the angle");
    return 0;
}

static int check_apart(const struct frame *f, const struct comparison *c, struct error *e)
{
    for (size_t i = 0; i < c->a.count; i++)
        for (size_t j = 0; j < c->b.count; j++)
            if (c->a.rows[i] == c->b.rows[j])
                return error_set(e, ERROR_USAGE,
                                 "coupon %s is on both sides; it can be on one only",
                                 f->marks[c->a.rows[i]]);
    return 0;
}

/* Student's two-sample interval with one scatter for both sides. */
static void plain_difference(const struct measure *a, const struct measure *b, struct comparison *c)
{
    double squares = 0, freedom = (double)(c->a.count + c->b.count) - 2, reach;

    c->plain = c->b.plain_mean - c->a.plain_mean;
    c->plain_low = c->plain_high = NAN;
    if (isnan(c->plain) || freedom < 1)
        return;
    for (size_t i = 0; i < c->a.count; i++)
        squares += pow(a[i].low - c->a.plain_mean, 2);
    for (size_t i = 0; i < c->b.count; i++)
        squares += pow(b[i].low - c->b.plain_mean, 2);
    reach = gsl_cdf_tdist_Pinv(INTERVAL_HIGH, freedom) *
            sqrt(squares / freedom * (1 / (double)c->a.count + 1 / (double)c->b.count));
    c->plain_low = c->plain - reach;
    c->plain_high = c->plain + reach;
}

/* Both groups as a frame of one column: 0 for a, 1 for b. */
static void side_frame(const struct frame *f, const struct comparison *c, struct frame *sides)
{
    frame_init(sides, "", "", "", f->range);
    frame_add_column(sides, "side", "side", "", false);
    for (size_t i = 0; i < c->a.count + c->b.count; i++) {
        bool b = i >= c->a.count;
        size_t row = b ? c->b.rows[i - c->a.count] : c->a.rows[i];

        frame_set_number(sides, frame_add_row(sides, f->marks[row], f->y[row]), 0, b);
    }
}

/* Only the subset that holds the one variable counts: that there is a difference is given. */
static double given_it_matters(uint64_t groups, size_t group_count, const void *unused)
{
    (void)group_count, (void)unused;
    return groups == 1 ? 0 : -INFINITY;
}

static void read_fit(const struct model_matrix *matrix, const struct model_average *a,
                     struct comparison *c)
{
    const double direction = 1;
    const struct subset *s = &a->subsets[1]; /* the one that holds the variable */
    struct effect_range range;

    assert(a->count == 2 && s->groups == 1);
    c->a.mean = matrix->centre + matrix->unit * (s->gamma[0] - s->gamma[1] / 2) / s->h;
    c->b.mean = matrix->centre + matrix->unit * (s->gamma[0] + s->gamma[1] / 2) / s->h;
    c->scatter = matrix->unit / s->h;
    effect_range_make(matrix, a, 0, &direction, &range);
    c->difference = c->b.mean - c->a.mean;
    c->low = matrix->unit * range.low;
    c->high = matrix->unit * range.high;
}

/* Where nothing broke or nothing differs, these figures stay NAN. */
static void fit_difference(const struct frame *f, struct comparison *c)
{
    struct model_average_options options = {.log_prior = given_it_matters};
    struct frame sides;
    struct model_matrix matrix;
    struct model_average average;

    c->difference = c->low = c->high = c->scatter = NAN;
    side_frame(f, c, &sides);
    if (model_matrix_make(&sides, &matrix, NULL, NULL) == 0) {
        if (model_average_make(&matrix, &options, &average, NULL) == 0) {
            read_fit(&matrix, &average, c);
            model_average_free(&average);
        }
        model_matrix_free(&matrix);
    }
    frame_free(&sides);
}

static void compare_results(const struct frame *f, uint64_t seed, struct comparison *out)
{
    struct measure *a = results(f, &out->a), *b = results(f, &out->b);

    survival_steps(a, out->a.count, &out->a.steps);
    survival_steps(b, out->b.count, &out->b.steps);
    plain_difference(a, b, out);
    permutation_test(a, out->a.count, b, out->b.count, seed, &out->permutation);
    out->smallest = permutation_test_smallest(out->a.count, out->b.count);
    survival_log_rank(a, out->a.count, b, out->b.count, &out->log_rank);
    free(a);
    free(b);
}

int compare_groups(const struct frame *f, const size_t *a, size_t a_count, const char *a_label,
                   const size_t *b, size_t b_count, const char *b_label, uint64_t seed,
                   struct comparison *out, struct error *e)
{
    *out = (struct comparison){0};
    if (fill_group(f, a, a_count, a_label, &out->a, e) < 0 ||
        fill_group(f, b, b_count, b_label, &out->b, e) < 0 || check_apart(f, out, e) < 0) {
        comparison_free(out);
        return -1;
    }
    compare_results(f, seed, out);
    fit_difference(f, out);
    return 0;
}

static char *value_label(const struct column *c, double low, double high)
{
    char from[40], to[40];
    const char *unit = frame_unit(c);

    if (c->category)
        return mem_copy(c->levels[(size_t)low]);
    text_from_rounded(from, sizeof from, c->shown ? unit_from_base(c->shown, low) : low, 6);
    text_from_rounded(to, sizeof to, c->shown ? unit_from_base(c->shown, high) : high, 6);
    return low == high ? mem_format("%s%s%s", from, *unit ? " " : "", unit)
                       : mem_format("%s to %s%s%s", from, to, *unit ? " " : "", unit);
}

/* Rows whose value of the column lies from low to high. */
static size_t rows_between(const struct frame *f, size_t column, double low, double high,
                           size_t *rows)
{
    size_t count = 0;

    for (size_t i = 0; i < f->n; i++)
        if (f->columns[column].x[i] >= low && f->columns[column].x[i] <= high)
            rows[count++] = i;
    return count;
}

static int compare_ranges(const struct frame *f, size_t column, const double a[2],
                          const double b[2], uint64_t seed, struct comparison *out, struct error *e)
{
    size_t *a_rows = mem_zero(f->n, sizeof *a_rows), *b_rows = mem_zero(f->n, sizeof *b_rows);
    char *a_label = value_label(&f->columns[column], a[0], a[1]);
    char *b_label = value_label(&f->columns[column], b[0], b[1]);
    int rc = compare_groups(f, a_rows, rows_between(f, column, a[0], a[1], a_rows), a_label, b_rows,
                            rows_between(f, column, b[0], b[1], b_rows), b_label, seed, out, e);

    free(a_rows);
    free(b_rows);
    free(a_label);
    free(b_label);
    return rc;
}

int compare_values(const struct frame *f, size_t column, double a, double b, uint64_t seed,
                   struct comparison *out, struct error *e)
{
    const double from[2] = {a, a}, to[2] = {b, b};

    assert(column < f->k);
    return compare_ranges(f, column, from, to, seed, out, e);
}

/* Values of the column among coupons with a result: all of them, sorted. */
static size_t sorted_values(const struct frame *f, size_t column, double *v)
{
    size_t n = 0;

    for (size_t i = 0; i < f->n; i++)
        if (measure_known(f->y[i]) && !isnan(f->columns[column].x[i]))
            v[n++] = f->columns[column].x[i];
    order_by_number(v, n, sizeof *v);
    return n;
}

static struct comparison *list_add(struct comparison_list *list)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
    return &list->items[list->count++];
}

/* The cut between two different values that is nearest to the middle of the sorted ones. */
static int compare_halves(const struct frame *f, size_t column, const double *v, size_t n,
                          uint64_t seed, struct comparison_list *out, struct error *e)
{
    size_t below = n / 2, above = n / 2;

    while (below > 0 && v[below] == v[below - 1])
        below--;
    while (above < n && v[above] == v[above - 1])
        above++;
    if (below == 0 || (above < n && above - n / 2 < n / 2 - below))
        below = above;
    return compare_ranges(f, column, (double[]){v[0], v[below - 1]}, (double[]){v[below], v[n - 1]},
                          seed, list_add(out), e);
}

/* Every pair of the different values, or, given `with`, every other value against that one. */
static int compare_pairs(const struct frame *f, size_t column, const double *v, size_t n,
                         const double *with, uint64_t seed, struct comparison_list *out,
                         struct error *e)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = with == NULL ? i + 1 : 0; j < (with == NULL ? n : 1); j++) {
            double a = with == NULL ? v[i] : *with, b = with == NULL ? v[j] : v[i];

            if (a != b && compare_values(f, column, a, b, seed, list_add(out), e) < 0)
                return -1;
        }
    return 0;
}

/* Keeps one of each of the sorted values; `commonest` is the one with most coupons. */
static size_t distinct(double *v, size_t n, double *commonest)
{
    size_t kept = 0, run = 0, longest = 0;

    for (size_t i = 0; i < n; i++) {
        run = i > 0 && v[i] == v[kept - 1] ? run + 1 : 1;
        if (run == 1)
            v[kept++] = v[i];
        if (run > longest) {
            longest = run;
            *commonest = v[i];
        }
    }
    return kept;
}

int compare_variable(const struct frame *f, size_t column, uint64_t seed,
                     struct comparison_list *out, struct error *e)
{
    double *all = mem_zero(f->n, sizeof *all), *v = mem_zero(f->n, sizeof *v), commonest = NAN;
    size_t n = sorted_values(f, column, all), different;
    int rc;

    *out = (struct comparison_list){0};
    memcpy(v, all, n * sizeof *v);
    different = distinct(v, n, &commonest);
    if (different < 2)
        rc = error_set(e, ERROR_ANSWER,
                       "%s has a single value among the coupons with a result; weld one with "
                       "another value",
                       f->columns[column].label);
    else if (different <= EVERY_PAIR_UP_TO)
        rc = compare_pairs(f, column, v, different, NULL, seed, out, e);
    else if (f->columns[column].category)
        rc = compare_pairs(f, column, v, different, &commonest, seed, out, e);
    else
        rc = compare_halves(f, column, all, n, seed, out, e);
    if (rc < 0)
        comparison_list_free(out);
    free(all);
    free(v);
    return rc;
}
