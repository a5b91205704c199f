/*
 * A frame as the fits see it: used coupons as rows of numbers.
 *
 * Coding. A number runs from −½ at its smallest used value to +½ at its largest, so that its
 * coefficient is the change from the low to the high end; a category with two levels in use runs
 * the same way from the first level to the second. A category with L > 2 levels in use gets L − 1
 * orthonormal (Helmert) columns that act as one group. The prior variance of a coefficient is tau²
 * for the former and tau²/2 for the latter, which makes the variance of the difference of any two
 * levels tau² in both cases. Results are centred and divided by R/6.
 */
#ifndef STATS_CODED_H
#define STATS_CODED_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/measure.h"
#include "stats/frame.h"

enum { MODEL_MATRIX_MIN_ROWS = 4 }; /* … this many coupons */

#define MODEL_MATRIX_TAU 2.0 /* prior standard deviation of an effect, in units of the scatter */

/* A result in coded units; several alike coupons may be packed into one row. */
struct observation {
    enum measure_kind kind; /* exact, at least, at most, between */
    double low, high;       /* exact: both the (mean) result */
    double weight;          /* coupons in this row */
};

struct model_group {
    size_t column;       /* of the frame */
    size_t first, count; /* columns of x: first … first + count − 1 */
    double lambda;       /* prior precision of each of them */
    double low, high;    /* numbers: smallest and largest used value */
    size_t *levels;      /* categories: frame index of each level in use, ascending; else NULL */
    size_t level_count;  /* 0 for numbers */
};

struct model_matrix {
    size_t n, p; /* rows; columns of x, the first of which is the constant 1 */
    double *x;   /* n × p, row by row */
    struct observation *y;
    double within; /* squares lost by packing: Σ (y − row mean)² over exact results, coded² */
    struct model_group *groups;
    size_t group_count;
    size_t *rows;  /* frame row of each row; NULL once packed */
    double centre; /* result = centre + unit × coded */
    double unit;   /* R/6 */
};

/* Why coupons and columns are not in the coding. */
struct exclusions {
    size_t *no_result; /* frame rows without a result, ascending */
    size_t no_result_count;
    size_t *no_value;    /* frame rows without a value of a coded column, ascending … */
    size_t *no_value_of; /* … and which column (the first) */
    size_t no_value_count;
    size_t *never_changed; /* columns with fewer than two values in use */
    size_t never_changed_count;
    size_t *too_seldom; /* columns set aside because requiring them would leave fewer than … */
    size_t too_seldom_count;
};

/*
 * Codes the frame. Columns that never change among coupons with a result are set aside first; rows
 * missing a value of a remaining column are left out; columns that no longer change then are set
 * aside as well (their gaps have no say any more: coupons come back that lacked only those). Where
 * fewer than MODEL_MATRIX_MIN_ROWS coupons would be left, the column missing most often is set
 * aside first. ERROR_ANSWER when no coupon has a result, nothing broke (no result bounds the level
 * on one side), no column changed, or all results are equal. `leavings` may be NULL.
 */
int model_matrix_make(const struct frame *f, struct model_matrix *out,
                      struct exclusions *exclusions, struct error *e);
void model_matrix_free(struct model_matrix *c);
void exclusions_free(struct exclusions *l);

/* Alike coupons (same x; exact, or same kind and limits) packed into one row with their number. */
void collapse_rows(const struct model_matrix *c, struct model_matrix *out);

/* Distinct set-ups (rows of x) among the rows. */
size_t collapse_set_ups(const struct model_matrix *c);

/* x of one set-up: `values` has one number or level index for each group (that level must be in
 * use), `x` room for p. */
void model_matrix_row(const struct model_matrix *c, const double *values, double *x);
/* The columns of level `at` (position among the levels in use) of a group: `count` numbers. */
void model_matrix_level(const struct model_group *g, size_t at, double *x);

#endif
