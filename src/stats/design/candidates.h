/*
 * The candidates for the next coupon: what is asked for, the levels at hand of every variable, and
 * the rows of numbers that the model sees for them and for the coupons already welded.
 *
 * Coded as a model matrix is (data/model_matrix.h), over the levels seen and the levels at hand
 * together.
 */
#ifndef STATS_DESIGN_CANDIDATES_H
#define STATS_DESIGN_CANDIDATES_H

#include "stats/data/model_matrix.h"

/* Levels at hand of one column. A category may name levels that no coupon has had yet: their
 * indexes go on from level_count of the column. */
struct design_levels {
    double *values; /* numbers, or indexes of levels; no two alike */
    size_t count;   /* 0: the default: tested ends of a number and the tested value nearest to the
                       middle, seen levels of a category */
};

struct design_request {
    const struct design_levels *levels; /* one a column of the frame; NULL: all default */
    const double *chance;               /* one a column, from the ranking; NAN: not ranked; NULL: no
                                           results yet */
    double stop;                        /* where folding ends, result's unit; NAN: not known */
    size_t count;                       /* coupons wanted, 1 … 64 */
    uint64_t seed;
};

/* One variable with at least two levels. */
struct candidate_group {
    struct model_group group;
    double *values; /* at hand */
    size_t count;   /* at least 1 */
    double *codes;  /* count × group.count */
};

struct candidates {
    const struct frame *f;
    struct candidate_group *groups;
    size_t group_count, p;
    double *only; /* one a column of the frame: its one value when it is in no group, NAN
                     when that is not known */
    double combinations;
    size_t *rows; /* of the frame, every group's value known */
    size_t n;
    double *x;      /* n × p */
    size_t *setups; /* positions in rows, one for each different set-up */
    size_t setup_count;
};

/* A column with gaps that could not be ranked is left out unless its levels are given. ERROR_ANSWER
 * when no column has two levels at hand; `out` is empty then. The frame must stay until
 * candidates_free(). A combination is, for each group, the position in its `values`. */
int candidates_make(const struct frame *f, const struct design_request *request,
                    struct candidates *out, struct error *e);
void candidates_free(struct candidates *s);

void candidates_row(const struct candidates *s, const size_t *choice, double *x); /* p numbers */
void candidates_values(const struct candidates *s, const size_t *choice,
                       double *values); /* one a group */
void candidates_code(const struct candidates *s, const double *values,
                     double *x); /* any values; p numbers */
double candidates_value(const struct candidates *s, size_t at,
                        size_t group); /* of the welded at rows[at] */
/* Groups in which a set-up differs from the nearest welded coupon, rows[*at]; asserts n > 0. */
size_t candidates_nearest(const struct candidates *s, const double *values, size_t *at);
/* The next combination in order; false behind the last. Start with all 0. */
bool candidates_next(const struct candidates *s, size_t *choice);

#endif
