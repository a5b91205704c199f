/*
 * The frame: coupons as columns, with results that may be only "at least". The only shape in which
 * the statistics see a book.
 */
#ifndef STATS_FRAME_H
#define STATS_FRAME_H

#include <stdbool.h>
#include <stddef.h>

#include "model/measure.h"

struct column {
    char *key;
    char *label;
    char *unit; /* shown behind numbers; "" for a bare number or a category */
    bool category;
    char **levels; /* categories, in order of name */
    size_t level_count, level_capacity;
    double *x; /* one a coupon: the number, or the index of the level; NAN missing */
};

struct frame {
    char *result_key, *result_label, *result_unit;
    double range; /* R: 180 for a bend angle, 100 for a percentage, 0: take the observed */
    size_t n, k;  /* coupons, columns */
    size_t row_capacity, column_capacity;
    char **marks;
    struct measure *y;
    struct column *columns;
};

void frame_init(struct frame *f, const char *result_key, const char *label, const char *unit,
                double range);
void frame_free(struct frame *f);
/* Columns first, then rows; a new row is missing everywhere. Returns the index. */
size_t frame_add_column(struct frame *f, const char *key, const char *label, const char *unit,
                        bool category);
size_t frame_add_row(struct frame *f, const char *mark, struct measure y);
void frame_set_number(struct frame *f, size_t row, size_t column, double value);
void frame_set_level(struct frame *f, size_t row, size_t column, const char *level);
/* Puts the levels of every category into order of name. Call once, when all rows are in. */
void frame_sort_levels(struct frame *f);
/* R, or where it is 0 the span of the results as read; 1 when there is none. */
double frame_range(const struct frame *f);

#endif
