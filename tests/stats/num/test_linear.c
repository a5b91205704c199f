/*
 * Least squares, rank and factors. The NIST sets (fixtures/nist) are the outside measure: each is
 * fitted, and the digits that agree with the certified values are counted, −log10 of the relative
 * difference (of the absolute one where the certified value is 0).
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/guard.h"
#include "stats/num/linear.h"
#include "table.h"

/* Digits every estimate and the residual deviation have to reach, somewhat below what is measured
 * (it is printed): of estimates 14, 13, 14, 11.8, 7.1, 13, 13, 10.6, 8.6, 6.6. */
static const struct nist_set {
    const char *name;
    int degree; /* of the polynomial in x; 0: the columns as they stand */
    bool constant;
    double estimate, deviation;
} nist_sets[] = {
    {"norris", 1, true, 13, 13},   {"pontius", 2, true, 12, 12},  {"noint1", 1, false, 14, 14},
    {"longley", 0, true, 11, 12},  {"filip", 10, true, 6.5, 6.5}, {"wampler1", 5, true, 12, 10},
    {"wampler2", 5, true, 12, 12}, {"wampler3", 5, true, 10, 12}, {"wampler4", 5, true, 8, 12},
    {"wampler5", 5, true, 6, 12},
};

static double digits(double value, double certified)
{
    double away = fabs(value - certified) / (certified != 0 ? fabs(certified) : 1);

    return away == 0 ? 15 : fmin(15, -log10(away));
}

/* The certified number of one line of certified.csv; false when there is no such line. */
static bool certified(const char *lines, const char *set, const char *what, double *estimate)
{
    char start[40];
    const char *at;

    snprintf(start, sizeof start, "\n%s,%s,", set, what);
    at = strstr(lines, start);
    if (at == NULL)
        return false;
    *estimate = strtod(at + strlen(start), NULL);
    return true;
}

static double *design(const struct nist_set *set, const struct frame *f, size_t *p)
{
    size_t columns = set->degree > 0 ? (size_t)set->degree : f->k;
    double *x;

    *p = columns + set->constant;
    x = mem_zero(f->n * *p, sizeof *x);
    for (size_t i = 0; i < f->n; i++) {
        double *row = x + i * *p;

        if (set->constant)
            *row++ = 1;
        for (size_t j = 0; j < columns; j++)
            row[j] = set->degree > 0 ? pow(f->columns[0].x[i], (double)j + 1) : f->columns[j].x[i];
    }
    return x;
}

static void compare(const struct nist_set *set, const double *beta, size_t p, double deviation,
                    const char *lines)
{
    double min = 15, estimate, residual;
    char what[24];

    for (size_t j = 0; j < p; j++) {
        snprintf(what, sizeof what, "b%zu", j + !set->constant);
        ck_assert(certified(lines, set->name, what, &estimate));
        min = fmin(min, digits(beta[j], estimate));
    }
    ck_assert(certified(lines, set->name, "residual", &residual));
    printf("%s: %.1f digits of estimates, %.1f of the deviation\n", set->name, min,
           digits(deviation, residual));
    ck_assert_double_ge(min, set->estimate);
    ck_assert_double_ge(digits(deviation, residual), set->deviation);
}

START_TEST(certified_sets_are_met)
{
    const struct nist_set *set = &nist_sets[_i];
    char path[300], *text, *lines = table_read_file(FIXTURES "/nist/certified.csv");
    struct frame f;
    double *x, *y, *beta, *rest;
    size_t p;

    snprintf(path, sizeof path, FIXTURES "/nist/%s.csv", set->name);
    text = table_read_file(path);
    ck_assert_ptr_nonnull(lines);
    ck_assert_ptr_nonnull(text);
    table_to_frame(text, 0, &f);
    x = design(set, &f, &p);
    y = mem_zero(f.n, sizeof *y);
    for (size_t i = 0; i < f.n; i++)
        y[i] = f.y[i].low;
    beta = mem_zero(p, sizeof *beta);
    rest = mem_zero(f.n, sizeof *rest);
    ck_assert_uint_eq(linear_least_squares(x, f.n, p, y, 1e-14, beta, rest), p);
    compare(set, beta, p, sqrt(linear_dot(rest, rest, f.n) / (double)(f.n - p)), lines);
    frame_free(&f);
    free(x);
    free(y);
    free(beta);
    free(rest);
    free(text);
    free(lines);
}
END_TEST

START_TEST(rank_counts_what_is_not_tied)
{
    /* third column = first + second; fourth free */
    static const double x[] = {1, 0, 1, 2, /**/ 0, 1, 1, 0, /**/ 1, 1, 2, 1, /**/ 0, 0, 0, 5};
    double q[16], r[16];
    size_t rank = linear_basis(x, 4, 4, LINEAR_TOLERANCE, q);

    ck_assert_uint_eq(rank, 3);
    for (size_t a = 0; a < rank; a++)
        for (size_t b = 0; b < rank; b++)
            ck_assert_double_eq_tol(linear_dot(q + a * 4, q + b * 4, 4), a == b, 1e-14);
    /* (0, 1, 1, 0) = second column lies within, as (1, 1, 2, 0) does; (0, 0, 1, 0) does not. */
    ck_assert_double_eq_tol(linear_inside(q, 4, rank, (double[]){0, 1, 1, 0}), 2, 1e-14);
    ck_assert_double_eq_tol(linear_inside(q, 4, rank, (double[]){1, 1, 2, 0}), 6, 1e-14);
    ck_assert_double_lt(linear_inside(q, 4, rank, (double[]){0, 0, 1, 0}), 0.99);
    linear_triangle(x, 4, 4, r);
    ck_assert_uint_eq(linear_basis(r, 4, 4, LINEAR_TOLERANCE, NULL), 3);
    ck_assert_uint_eq(linear_basis(x, 2, 4, LINEAR_TOLERANCE, NULL), 2); /* fewer rows */
    ck_assert_uint_eq(linear_basis(x, 0, 4, LINEAR_TOLERANCE, NULL), 0);
}
END_TEST

START_TEST(tied_columns_get_no_effect_of_their_own)
{
    static const double x[] = {1, -1, -1, /**/ 1, -1, -1, /**/ 1, 1, 1, /**/ 1, 1, 1};
    static const double y[] = {10, 12, 20, 22};
    double beta[3], rest[4];

    ck_assert_uint_eq(linear_least_squares(x, 4, 3, y, LINEAR_TOLERANCE, beta, rest), 2);
    ck_assert_double_eq_tol(beta[1] + beta[2], 5, 1e-12);
    ck_assert((beta[1] == 0) != (beta[2] == 0));
    ck_assert_double_eq_tol(rest[0], -1, 1e-12); /* two pairs, each 2 apart */
    ck_assert_double_eq_tol(rest[3], 1, 1e-12);
}
END_TEST

START_TEST(cholesky_of_a_worked_case)
{
    /* [4 2; 2 5] = [2 0; 1 2][2 1; 0 2]; determinant 16; A (1, 2)' = (8, 12)' */
    double a[] = {4, 2, 2, 5}, b[] = {8, 12}, c[] = {2, 2}, bad[] = {1, 2, 2, 1};

    ck_assert_int_eq(linear_cholesky(a, 2), 0);
    ck_assert_double_eq_tol(a[0], 2, 1e-15);
    ck_assert_double_eq_tol(a[2], 1, 1e-15);
    ck_assert_double_eq_tol(a[3], 2, 1e-15);
    ck_assert_double_eq_tol(linear_cholesky_log_det(a, 2), log(16), 1e-14);
    linear_cholesky_solve(a, 2, b);
    ck_assert_double_eq_tol(b[0], 1, 1e-14);
    ck_assert_double_eq_tol(b[1], 2, 1e-14);
    linear_back_solve(a, 2, c); /* L' c = (2, 2): c = (1/2, 1) */
    ck_assert_double_eq_tol(c[0], 0.5, 1e-14);
    ck_assert_double_eq_tol(c[1], 1, 1e-14);
    ck_assert_int_ne(linear_cholesky(bad, 2), 0);
}
END_TEST

/* Columns of zeros have no rank and no effect; R'R is x'x, also with fewer rows than columns. */
START_TEST(zeros_and_triangles)
{
    static const double zeros[6] = {0}, half[] = {1, 0, 1, 0, 2, 0}, y[] = {3, 4, 5};
    static const double wide[] = {1, 2, 3, 4, 0, -1}; /* 2 × 3, or 3 × 2 */
    double beta[2] = {9, 9}, rest[3], q[6], r[9];

    ck_assert_uint_eq(linear_basis(zeros, 3, 2, LINEAR_TOLERANCE, q), 0);
    ck_assert_uint_eq(linear_basis(wide, 2, 0, LINEAR_TOLERANCE, q), 0);
    ck_assert_uint_eq(linear_least_squares(zeros, 3, 2, y, LINEAR_TOLERANCE, beta, rest), 0);
    ck_assert(beta[0] == 0 && beta[1] == 0);
    ck_assert_mem_eq(rest, y, sizeof y);
    /* (3 + 4 + 2 × 5)/6 */
    ck_assert_uint_eq(linear_least_squares(half, 3, 2, y, LINEAR_TOLERANCE, beta, rest), 1);
    ck_assert_double_eq_tol(beta[0], 17 / 6.0, 1e-14);
    ck_assert(beta[1] == 0);
    ck_assert_double_eq_tol(rest[2], 5 - 17 / 3.0, 1e-14);
    for (size_t n = 2; n <= 3; n++) {
        size_t p = 5 - n;

        linear_triangle(wide, n, p, r);
        for (size_t a = 0; a < p; a++)
            for (size_t b = 0; b < p; b++) {
                double along = 0, within = 0;

                for (size_t i = 0; i < n; i++)
                    within += wide[i * p + a] * wide[i * p + b];
                for (size_t i = 0; i < p; i++)
                    along += r[i * p + a] * r[i * p + b];
                ck_assert_double_eq_tol(along, within, 1e-13);
                ck_assert(b >= a || r[a * p + b] == 0);
            }
    }
}
END_TEST

START_TEST(largest_singular_value_of_worked_cases)
{
    static const double wide[] = {3, 4}, square[] = {0, 2, 1, 0};

    ck_assert_double_eq_tol(linear_largest(wide, 1, 2), 5, 1e-14);
    ck_assert_double_eq_tol(linear_largest(wide, 2, 1), 5, 1e-14);
    ck_assert_double_eq_tol(linear_largest(square, 2, 2), 2, 1e-14);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/linear");
    TCase *t = tcase_create("linear");

    guard_start();
    tcase_add_loop_test(t, certified_sets_are_met, 0, sizeof nist_sets / sizeof *nist_sets);
    tcase_add_test(t, rank_counts_what_is_not_tied);
    tcase_add_test(t, tied_columns_get_no_effect_of_their_own);
    tcase_add_test(t, cholesky_of_a_worked_case);
    tcase_add_test(t, zeros_and_triangles);
    tcase_add_test(t, largest_singular_value_of_worked_cases);
    suite_add_tcase(s, t);
    return s;
}
