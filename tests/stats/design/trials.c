#include "trials.h"

#include <math.h>
#include <stdio.h>

static double frame_value(const struct frame *f, size_t row, size_t column)
{
    return f->columns[column].x[row];
}

/* k numeric columns that take 0 and 1, no rows yet. */
void trial_make(struct frame *f, size_t k)
{
    char key[24];

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < k; j++) {
        snprintf(key, sizeof key, "v%zu", j);
        frame_add_column(f, key, key, "", false);
    }
}

void set_welded(struct frame *f, struct measure y, const double *x)
{
    size_t row = frame_add_row(f, "c", y);

    for (size_t j = 0; j < f->k; j++)
        frame_set_number(f, row, j, x[j]);
}

const struct design_levels *two_levels(size_t k)
{
    static double ends[] = {0, 1};
    static struct design_levels levels[MOST];

    for (size_t j = 0; j < k; j++)
        levels[j] = (struct design_levels){ends, 2};
    return levels;
}

/* Log determinant by plain elimination; a is destroyed. */
double slow_log_det(double *a, size_t p)
{
    double sum = 0;

    for (size_t c = 0; c < p; c++) {
        sum += log(a[c * p + c]);
        for (size_t r = c + 1; r < p; r++)
            for (size_t j = p; j-- > c;)
                a[r * p + j] -= a[r * p + c] / a[c * p + c] * a[c * p + j];
    }
    return sum;
}

/* Diagonal element of the inverse, by the ratio of determinants of M and M without row and column.
 */
double slow_variance(const double *m, size_t p, size_t of)
{
    double whole[MOST * MOST], part[MOST * MOST];
    size_t n = 0;

    for (size_t i = 0; i < p * p; i++) {
        whole[i] = m[i];
        if (i / p != of && i % p != of)
            part[n++] = m[i];
    }
    return exp(slow_log_det(part, p - 1) - slow_log_det(whole, p));
}

void slow_add(double *m, size_t p, const double *set_up)
{
    double x[MOST] = {1};

    for (size_t j = 1; j < p; j++)
        x[j] = set_up[j - 1] - 0.5;
    for (size_t i = 0; i < p; i++)
        for (size_t j = 0; j < p; j++)
            m[i * p + j] += x[i] * x[j];
}

/* M of a frame whose columns run from 0 to 1: prior precision 1/4 of an effect. */
void slow_matrix(const struct frame *f, double *m)
{
    size_t p = f->k + 1;
    double x[MOST];

    for (size_t i = 0; i < p * p; i++)
        m[i] = i % (p + 1) != 0 ? 0 : i == 0 ? 1e-6 : 0.25;
    for (size_t i = 0; i < f->n; i++) {
        for (size_t j = 0; j < f->k; j++)
            x[j] = frame_value(f, i, j);
        slow_add(m, p, x);
    }
}

/* A random trial of two-level variables, all broke. */
void random_trial(struct frame *f, size_t n, size_t k, struct random *r)
{
    double x[MOST];

    trial_make(f, k);
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < k; j++)
            x[j] = (double)random_below(r, 2);
        for (size_t j = 0; j < k && i < 2; j++)
            x[j] = (double)i;
        set_welded(f, measure_exact(60 + 40 * x[0] + 15 * random_normal(r)), x);
    }
}

/* Levels at hand: categories and numbers of 2 to 4 levels. */
void mixed_trial(struct frame *f, size_t n, struct random *r)
{
    char level[2] = "a";

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    for (size_t j = 0; j < 5; j++)
        frame_add_column(f, "v", "v", "", j % 2 == 0);
    for (size_t i = 0; i < n; i++) {
        size_t row = frame_add_row(f, "c", measure_exact(90 + 30 * random_normal(r)));

        for (size_t j = 0; j < 5; j++) {
            size_t at = random_below(r, 2 + j % 3);

            level[0] = (char)('a' + at);
            if (f->columns[j].category)
                frame_set_level(f, row, j, level);
            else
                frame_set_number(f, row, j, (double)at * 10);
        }
    }
    frame_sort_levels(f);
}
