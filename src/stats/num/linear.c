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
    size_t n, p, min; /* min: the smaller of n and p */
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
    size_t rank;

    if (n == 0 || p == 0)
        return 0;
    pivoted_make(x, n, p, &d);
    rank = pivoted_rank(&d, tolerance);
    for (size_t a = 0; q != NULL && a < rank; a++) {
        gsl_vector_view v = gsl_vector_view_array(q + a * n, n);

        gsl_vector_set_basis(&v.vector, a);
        gsl_linalg_QR_Qvec(&d.qr.matrix, d.tau, &v.vector);
    }
    pivoted_free(&d);
    return rank;
}

double linear_inside(const double *q, size_t n, size_t rank, const double *v)
{
    double squares = 0;

    for (size_t a = 0; a < rank; a++) {
        double along = linear_dot(q + a * n, v, n);

        squares += along * along;
    }
    return squares;
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

/* Adds the least-squares solution for `rest`, which is lost, to beta. */
static void add_solution(const struct pivoted *d, size_t rank, double *rest, double *beta)
{
    gsl_matrix_const_view r = gsl_matrix_const_submatrix(&d->qr.matrix, 0, 0, rank, rank);
    gsl_vector_view all = gsl_vector_view_array(rest, d->n), v = gsl_vector_view_array(rest, rank);

    gsl_linalg_QR_QTvec(&d->qr.matrix, d->tau, &all.vector);
    gsl_blas_dtrsv(CblasUpper, CblasNoTrans, CblasNonUnit, &r.matrix, &v.vector);
    for (size_t c = 0; c < rank; c++) {
        size_t j = gsl_permutation_get(d->order, c);

        beta[j] += rest[c] / d->lengths[j];
    }
}

/* y − x beta, each in long double. */
static void residuals(const double *x, size_t n, size_t p, const double *y, const double *beta,
                      double *rest)
{
    for (size_t i = 0; i < n; i++) {
        long double left = y[i];

        for (size_t j = 0; j < p; j++)
            left -= (long double)x[i * p + j] * beta[j];
        rest[i] = (double)left;
    }
}

size_t linear_least_squares(const double *x, size_t n, size_t p, const double *y, double tolerance,
                            double *beta, double *rest)
{
    struct pivoted d;
    size_t rank;

    assert(n > 0 && p > 0);
    pivoted_make(x, n, p, &d);
    rank = pivoted_rank(&d, tolerance);
    memset(beta, 0, p * sizeof *beta);
    residuals(x, n, p, y, beta, rest);
    for (int round = 0; round < 2 && rank > 0; round++) {
        add_solution(&d, rank, rest, beta);
        residuals(x, n, p, y, beta, rest);
    }
    pivoted_free(&d);
    return rank;
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
