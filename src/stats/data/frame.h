/*
 * The frame: n coupons by k variables, with results that may be only "at least". The only shape in
 * which the statistics see a book. `shown` is for whoever formats an answer; nothing here depends
 * on it.
 */
#ifndef STATS_DATA_FRAME_H
#define STATS_DATA_FRAME_H

#include <stdbool.h>
#include <stddef.h>

#include "model/measure.h"
#include "model/units.h"

/* One variable. Numbers are in the base unit of their dimension, or, where no unit of the table
 * fits, in the user's own unit. */
struct column {
    char *key;
    char *label;
    bool category;
    const struct unit *shown; /* the unit to show numbers in; NULL: `unit`, nothing to convert */
    char *unit;               /* the user's own; "" for a bare number or a category */
    char **levels;            /* categories, in order of name */
    size_t level_count, level_capacity;
    double *x; /* n: the number, or the index of the level; NAN missing */
};

struct frame {
    char *result_key, *result_label;
    const struct unit *result_shown; /* as in struct column */
    char *result_unit;
    double
        range; /* R, base unit: 180 for a bend angle, 100 for a percentage, 0: take the observed */
    size_t n, k; /* coupons, columns */
    size_t row_capacity, column_capacity;
    char **marks;      /* n */
    struct measure *y; /* n; missing ones are kept */
    struct column *columns;
};

void frame_init(struct frame *f, const char *result_key, const char *label, const char *unit,
                double range);
void frame_free(struct frame *f);
/* Columns first, then rows (asserted); a new row is missing everywhere. Strings are copied. Returns
 * the index. */
size_t frame_add_column(struct frame *f, const char *key, const char *label, const char *unit,
                        bool category);
size_t frame_add_row(struct frame *f, const char *mark, struct measure y);
void frame_set_number(struct frame *f, size_t row, size_t column, double value);
void frame_set_level(struct frame *f, size_t row, size_t column, const char *level);
/* The index of a level of a category; one that no row has yet is added behind the others. */
size_t frame_level(struct frame *f, size_t column, const char *level);
/* Symbols behind numbers as shown; "" when there is none. */
const char *frame_unit(const struct column *c);
const char *frame_result_unit(const struct frame *f);
/* Puts the levels of every category into order of name. Call once, when all rows are in. */
void frame_sort_levels(struct frame *f);
/* R, or where it is 0 the span of the results as read; 1 when there is none. Base unit. */
double frame_range(const struct frame *f);

#endif
