/*
 * The model matrix of a frame: the coupons that can be used as rows of numbers, what every fit
 * works on.
 *
 * Coding. A number runs from −½ at its smallest used value to +½ at its largest, so that its
 * coefficient is the change from the low to the high end; a category with two levels in use runs
 * the same way from the first level to the second. A category with L > 2 levels in use gets L − 1
 * orthonormal (Helmert) columns that act as one group. The prior variance of a coefficient is tau²
 * for the former and tau²/2 for the latter, which makes the variance of the difference of any two
 * levels tau² in both cases. Results are centred and divided by R/6 ("coded units").
 */
#ifndef STATS_DATA_MODEL_MATRIX_H
#define STATS_DATA_MODEL_MATRIX_H

#include <stdint.h>

#include "base/error.h"
#include "stats/data/frame.h"

enum { MODEL_MATRIX_MIN_ROWS = 4 };
#define MODEL_MATRIX_TAU 2.0 /* prior standard deviation of an effect, in units of the scatter */
#define NO_COLUMN ((size_t)-1)

/* A result in coded units; alike coupons may be collapsed into one row. */
struct observation {
    enum measure_kind kind; /* exact, at least, at most, between; never missing */
    double low, high;       /* exact: both the (mean) result */
    double weight;          /* coupons in this row, at least 1 */
};

/* The columns of one variable. */
struct model_group {
    size_t column;       /* of the frame */
    size_t first, count; /* columns of x: first … first + count − 1 */
    double lambda;       /* prior precision of each of them */
    double low, high;    /* numbers: smallest and largest used value */
    size_t *levels;      /* categories: frame index of each level in use, ascending; else NULL */
    size_t level_count;  /* 0 for numbers */
};

struct model_matrix {
    size_t n, p;           /* rows; columns of x, the first of which is the constant 1 */
    double *x;             /* n × p, row by row */
    double *lambda;        /* p: prior precision of each column, 0 for the constant */
    struct observation *y; /* n */
    double within; /* squares lost by collapsing: Σ (y − row mean)² over exact results */
    struct model_group *groups;
    size_t group_count;
    size_t *rows;  /* n: frame row of each row, ascending; NULL once collapsed */
    double centre; /* result = centre + unit × coded */
    double unit;   /* R/6 */
};

/* A coupon that cannot be used. */
struct left_out {
    size_t row;    /* of the frame */
    size_t column; /* the first one missing; NO_COLUMN: the result */
};

/* What of the frame is not in the matrix, and why. */
struct exclusions {
    struct left_out *rows; /* ascending */
    size_t row_count;
    size_t *never_changed; /* columns with fewer than two values in use */
    size_t never_changed_count;
    size_t *too_seldom; /* columns known for so few coupons that asking for them would leave fewer
                           than MODEL_MATRIX_MIN_ROWS */
    size_t too_seldom_count;
};

/*
 * Columns that never change among coupons with a result are set aside first; rows missing a value
 * of a remaining column are left out; columns that no longer change then are set aside as well
 * (their gaps no longer matter: coupons that lacked only those come back). Where fewer than
 * MODEL_MATRIX_MIN_ROWS coupons would be left, the column missing most often is set aside first;
 * the matrix may still have fewer rows.
 *
 * The matrix keeps no pointers into the frame. ERROR_ANSWER, with a sentence for the user, when no
 * coupon has a result, no result bounds the level on one side (nothing broke), no column changed,
 * or all results are equal; `out` is empty then. `exclusions` may be NULL; else it is filled in
 * either case. The caller frees both.
 */
int model_matrix_make(const struct frame *f, struct model_matrix *out,
                      struct exclusions *exclusions, struct error *e);
void model_matrix_free(struct model_matrix *c);
/* Fills `lambda` from the groups, for whoever puts a matrix together by hand. */
void model_matrix_set_lambda(struct model_matrix *c);
struct observation observation_coded(struct measure m, double centre, double unit);
void exclusions_free(struct exclusions *l);

/* x of one set-up: `values` has one number or level index a group (asserted: a level in use), `x`
 * receives p numbers. */
void model_matrix_row(const struct model_matrix *c, const double *values, double *x);
/* Range or levels, number of columns and prior of a group, from its different values, rising. The
 * caller frees `levels`. */
void model_group_code(const double *values, size_t count, bool category, struct model_group *g);
/* The `count` numbers of a value (a level: asserted to be one of `levels`). */
void model_group_row(const struct model_group *g, double value, double *x);
/* The columns of level `at` (position among the levels in use) of a group: `count` numbers. */
void model_matrix_level(const struct model_group *g, size_t at, double *x);
/* Columns of x of a set of groups (bit g: group g), ascending, the constant first; returns how
 * many, at most p. */
size_t model_matrix_columns(const struct model_matrix *c, uint64_t groups, size_t *columns);

#endif
