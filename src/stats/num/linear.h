/*
 * Linear algebra on plain row-by-row arrays: orthonormal bases, rank and least squares, all by
 * Householder QR with column pivoting (GSL) on columns of length 1.
 */
#ifndef STATS_NUM_LINEAR_H
#define STATS_NUM_LINEAR_H

#include <stddef.h>

/* Columns this close to a combination of others count as dependent. */
#define LINEAR_TOLERANCE 1e-9

static inline double linear_dot(const double *a, const double *b, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/*
 * Orthonormal basis of the columns of x (n × p, row by row). Returns the rank: diagonal elements of
 * R larger than `tolerance` times the first. Unless q is NULL (room for n × min(n, p)), its first
 * `rank` rows receive the basis vectors, n numbers each.
 */
size_t linear_basis(const double *x, size_t n, size_t p, double tolerance, double *q);
/* Squared length of the part of v (n) within the space of such a basis. */
double linear_inside(const double *q, size_t n, size_t rank, const double *v);

/* The triangular factor R of x = QR (p × p, row by row, zeros below the diagonal), n ≥ 1: any set
 * of columns of R has the rank and the inner products of the same columns of x. */
void linear_triangle(const double *x, size_t n, size_t p, double *r);

/*
 * Least squares of y on x, with one step of refinement on residuals taken in long double: fills
 * beta (p; 0 for columns dependent on others) and the residuals (n), returns the rank. Certified
 * cases: tests/stats/num/test_linear.c.
 */
size_t linear_least_squares(const double *x, size_t n, size_t p, const double *y, double tolerance,
                            double *beta, double *rest);

/* Largest singular value of a (n × p, row by row). */
double linear_largest(const double *a, size_t n, size_t p);

/* Lower Cholesky factor of a (p × p, row by row), in place; −1 when it is not positive definite. */
int linear_cholesky(double *a, size_t p);
void linear_cholesky_solve(const double *factor, size_t p, double *b); /* b := A⁻¹ b */
void linear_back_solve(const double *factor, size_t p, double *b);     /* b := L⁻ᵀ b */
double linear_cholesky_log_det(const double *factor, size_t p);        /* log |A| */

#endif
