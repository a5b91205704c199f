#include "stats/num/linear.h"

#include <assert.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/guard.h"

/* x = Q R with pivoted columns that were first brought to length 1. */
struct pivoted {
    size_t n, p, min; /* least: the smaller of n and p */
    double *cells;    /* Householder vectors below the diagonal, R on and above it */
    double *lengths;  /* of the columns of x; 1 for a zero column */
    gsl_matrix_view qr;
    gsl_vector *tau;
    gsl_permutation *order;
};

static double column_length(const double *x, size_t n, size_t p, size_t j)
{
    double squares = 0;

    for (size_t i = 0; i < n; i++)
        squares += x[i * p + j] * x[i * p + j];
    return squares > 0 ? sqrt(squares) : 1;
}

static void pivoted_make(const double *x, size_t n, size_t p, struct pivoted *d)
{
    double *norms = mem_zero(p, sizeof *norms);
    gsl_vector_view norm_view = gsl_vector_view_array(norms, p);
    int sign;

    *d = (struct pivoted){.n = n, .p = p, .min = n < p ? n : p};
    d->cells = mem_zero(n * p, sizeof *d->cells);
    d->lengths = mem_zero(p, sizeof *d->lengths);
    for (size_t j = 0; j < p; j++) {
        d->lengths[j] = column_length(x, n, p, j);
        for (size_t i = 0; i < n; i++)
            d->cells[i * p + j] = x[i * p + j] / d->lengths[j];
    }
    d->qr = gsl_matrix_view_array(d->cells, n, p);
    d->tau = guard_block(gsl_vector_alloc(d->min));
    d->order = guard_block(gsl_permutation_alloc(p));
    gsl_linalg_QRPT_decomp(&d->qr.matrix, d->tau, d->order, &sign, &norm_view.vector);
    free(norms);
}

static void pivoted_free(struct pivoted *d)
{
    free(d->cells);
    free(d->lengths);
    gsl_vector_free(d->tau);
    gsl_permutation_free(d->order);
}

static size_t pivoted_rank(const struct pivoted *d, double tolerance)
{
    size_t rank = 0;

    while (rank < d->min && fabs(d->cells[rank * d->p + rank]) > tolerance * fabs(d->cells[0]))
        rank++;
    return rank;
}

size_t linear_basis(const double *x, size_t n, size_t p, double tolerance, double *q)
{
    struct pivoted d;
    double *unit;
    size_t rank;

    if (n == 0 || p == 0)
        return 0;
    pivoted_make(x, n, p, &d);
    rank = pivoted_rank(&d, tolerance);
    unit = mem_zero(n, sizeof *unit);
    if (q != NULL)
        memset(q, 0, n * p * sizeof *q);
    for (size_t c = 0; q != NULL && c < rank; c++) {
        gsl_vector_view v = gsl_vector_view_array(unit, n);

        gsl_vector_set_basis(&v.vector, c);
        gsl_linalg_QR_Qvec(&d.qr.matrix, d.tau, &v.vector);
        for (size_t i = 0; i < n; i++)
            q[i * p + c] = unit[i];
    }
    free(unit);
    pivoted_free(&d);
    return rank;
}

void linear_triangle(const double *x, size_t n, size_t p, double *r)
{
    double *cells = mem_zero(n * p, sizeof *cells);
    gsl_matrix_view view = gsl_matrix_view_array(cells, n, p);
    gsl_vector *tau = guard_block(gsl_vector_alloc(n < p ? n : p));

    memcpy(cells, x, n * p * sizeof *cells);
    gsl_linalg_QR_decomp(&view.matrix, tau);
    memset(r, 0, p * p * sizeof *r);
    for (size_t i = 0; i < p && i < n; i++)
        for (size_t j = i; j < p; j++)
            r[i * p + j] = cells[i * p + j];
    gsl_vector_free(tau);
    free(cells);
}

/* b := R⁻¹ b or R⁻ᵀ b with the leading `rank` columns of R. */
static void solve_triangle(const struct pivoted *d, size_t rank, CBLAS_TRANSPOSE_t how, double *b)
{
    gsl_matrix_const_view r = gsl_matrix_const_submatrix(&d->qr.matrix, 0, 0, rank, rank);
    gsl_vector_view v = gsl_vector_view_array(b, rank);

    gsl_blas_dtrsv(CblasUpper, how, CblasNonUnit, &r.matrix, &v.vector);
}

/* Adds the least-squares solution for `rest`, which is lost, to beta. */
static void add_solution(const struct pivoted *d, size_t rank, double *rest, double *beta)
{
    gsl_vector_view v = gsl_vector_view_array(rest, d->n);

    gsl_linalg_QR_QTvec(&d->qr.matrix, d->tau, &v.vector);
    solve_triangle(d, rank, CblasNoTrans, rest);
    for (size_t c = 0; c < rank; c++) {
        size_t j = gsl_permutation_get(d->order, c);

        beta[j] += rest[c] / d->lengths[j];
    }
}

/* y − x beta, each in long double; returns the sum of its squares. */
static double residuals(const double *x, size_t n, size_t p, const double *y, const double *beta,
                        double *rest)
{
    long double squares = 0;

    for (size_t i = 0; i < n; i++) {
        long double left = y[i];

        for (size_t j = 0; j < p; j++)
            left -= (long double)x[i * p + j] * beta[j];
        rest[i] = (double)left;
        squares += left * left;
    }
    return (double)squares;
}

/* Standard errors from the rows of R⁻¹. */
static void standard_errors(const struct pivoted *d, size_t rank, double deviation, double *error)
{
    double *row = mem_zero(rank, sizeof *row);

    for (size_t j = 0; j < d->p; j++)
        error[j] = NAN;
    for (size_t c = 0; c < rank; c++) {
        gsl_vector_view v = gsl_vector_view_array(row, rank);
        size_t j = gsl_permutation_get(d->order, c);

        gsl_vector_set_basis(&v.vector, c);
        solve_triangle(d, rank, CblasTrans, row);
        error[j] = deviation * gsl_blas_dnrm2(&v.vector) / d->lengths[j];
    }
    free(row);
}

void linear_fit_make(const double *x, size_t n, size_t p, const double *y, double tolerance,
                     struct linear_fit *out)
{
    double *rest = mem_zero(n, sizeof *rest);
    struct pivoted d;

    *out = (struct linear_fit){.beta = mem_zero(p, sizeof(double)),
                               .error = mem_zero(p, sizeof(double))};
    assert(n > 0 && p > 0);
    pivoted_make(x, n, p, &d);
    out->rank = pivoted_rank(&d, tolerance);
    for (int round = 0; round < 2 && out->rank > 0; round++) {
        residuals(x, n, p, y, out->beta, rest);
        add_solution(&d, out->rank, rest, out->beta);
    }
    out->squares = residuals(x, n, p, y, out->beta, rest);
    if (n > out->rank)
        out->deviation = sqrt(out->squares / (double)(n - out->rank));
    standard_errors(&d, out->rank, out->deviation, out->error);
    pivoted_free(&d);
    free(rest);
}

void linear_fit_free(struct linear_fit *fit)
{
    free(fit->beta);
    free(fit->error);
    *fit = (struct linear_fit){0};
}

double linear_largest(const double *a, size_t n, size_t p)
{
    size_t rows = n > p ? n : p, columns = n > p ? p : n;
    gsl_matrix *m = guard_block(gsl_matrix_alloc(rows, columns));
    gsl_matrix *v = guard_block(gsl_matrix_alloc(columns, columns));
    gsl_vector *s = guard_block(gsl_vector_alloc(columns));
    double largest;

    for (size_t i = 0; i < n; i++) /* GSL wants no fewer rows than columns */
        for (size_t j = 0; j < p; j++)
            gsl_matrix_set(m, n > p ? i : j, n > p ? j : i, a[i * p + j]);
    gsl_linalg_SV_decomp_jacobi(m, v, s);
    largest = gsl_vector_get(s, 0);
    gsl_matrix_free(m);
    gsl_matrix_free(v);
    gsl_vector_free(s);
    return largest;
}

/* Plain loops: for a dozen columns GSL's views and calls cost more than the arithmetic. */
int linear_cholesky(double *a, size_t p)
{
    for (size_t j = 0; j < p; j++) {
        double *row = a + j * p, left = row[j];

        for (size_t k = 0; k < j; k++)
            left -= row[k] * row[k];
        if (!(left > 0))
            return -1;
        row[j] = sqrt(left);
        for (size_t i = j + 1; i < p; i++) {
            double sum = a[i * p + j];

            for (size_t k = 0; k < j; k++)
                sum -= a[i * p + k] * row[k];
            a[i * p + j] = sum / row[j];
        }
    }
    return 0;
}

void linear_back_solve(const double *factor, size_t p, double *b)
{
    for (size_t i = p; i-- > 0;) {
        b[i] /= factor[i * p + i];
        for (size_t k = 0; k < i; k++)
            b[k] -= factor[i * p + k] * b[i];
    }
}

void linear_cholesky_solve(const double *factor, size_t p, double *b)
{
    for (size_t i = 0; i < p; i++) {
        for (size_t k = 0; k < i; k++)
            b[i] -= factor[i * p + k] * b[k];
        b[i] /= factor[i * p + i];
    }
    linear_back_solve(factor, p, b);
}

double linear_cholesky_log_det(const double *factor, size_t p)
{
    double sum = 0;

    for (size_t i = 0; i < p; i++)
        sum += 2 * log(factor[i * p + i]);
    return sum;
}
