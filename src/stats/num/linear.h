/*
 * Linear algebra on plain row-by-row arrays: orthonormal bases, rank and least squares, all by
 * Householder QR with column pivoting (GSL) on columns of length 1.
 */
#ifndef STATS_NUM_LINEAR_H
#define STATS_NUM_LINEAR_H

#include <stddef.h>

#define LINEAR_TOLERANCE                                                                           \
    1e-9 /* columns this close to a combination of others count as dependent                       \
          */

/*
 * Orthonormal basis of the columns of x (n × p): fills q (n × p, row by row, the first columns of
 * each row hold the basis, the rest 0) unless NULL, and returns the rank: diagonal elements of R
 * larger than `tolerance` times the first.
 */
size_t linear_basis(const double *x, size_t n, size_t p, double tolerance, double *q);

/* The triangular factor R of x = QR (p × p, row by row, zeros below the diagonal), n ≥ 1: any set
 * of columns of R has the rank and the inner products of the same columns of x. */
void linear_triangle(const double *x, size_t n, size_t p, double *r);

struct linear_fit {
    size_t rank;
    double *beta;   /* p; 0 for columns dependent on earlier pivots */
    double *error;  /* p standard errors; 0 without degrees of freedom, NAN for dependent columns */
    double squares; /* of the residuals */
    double deviation; /* residual standard deviation; 0 without degrees of freedom */
};

/*
 * Least squares of y on x, with one step of refinement on residuals taken in long double. The
 * caller frees `out`. Certified cases: tests/stats/test_linear.c.
 */
void linear_fit_make(const double *x, size_t n, size_t p, const double *y, double tolerance,
                     struct linear_fit *out);
void linear_fit_free(struct linear_fit *fit);

/* Largest singular value of a (n × p, row by row). */
double linear_largest(const double *a, size_t n, size_t p);

/* Lower Cholesky factor of a (p × p, row by row), in place; −1 when it is not positive definite. */
int linear_cholesky(double *a, size_t p);
void linear_cholesky_solve(const double *factor, size_t p, double *b); /* b := A⁻¹ b */
void linear_back_solve(const double *factor, size_t p, double *b);     /* b := L⁻ᵀ b */
double linear_cholesky_log_det(const double *factor, size_t p);        /* log |A| */

#endif
