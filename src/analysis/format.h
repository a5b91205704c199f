/*
 * Numbers, levels and names of a frame as text. All take numbers as the frame has them, in base
 * units, and convert them to the units shown; `range` (base unit too) is the span that decides the
 * decimals. What is not known is written as a dash.
 */
#ifndef ANALYSIS_FORMAT_H
#define ANALYSIS_FORMAT_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "stats/data/frame.h"

/* A short text handed over by value: `format_level(f, j, value).s` lasts as long as the expression
 * it is part of. Longer labels and levels are cut. */
struct phrase {
    char s[160];
};

struct phrase phrase(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* The bare numbers in the units shown: a value of a column, a result, a difference of results. */
double format_shown(const struct column *c, double value);
double format_shown_result(const struct frame *f, double value);
double format_shown_change(const struct frame *f, double change);

/* "58°", "-2.9 kg/mm2": a result. */
struct phrase format_result(const struct frame *f, double range, double value);
/* "58°": a difference of two results; "+58°" with its sign. */
struct phrase format_change(const struct frame *f, double range, double change);
struct phrase format_signed_change(const struct frame *f, double range, double change);
/* "+36 … +55°": a range of differences in the result. */
struct phrase format_range(const struct frame *f, double range, double low, double high);
/* The range that gives an interval this narrow enough decimals to tell its ends apart. */
double format_fine_range(double range, double low, double high);
/* "3 mm", "both": a value of a column (number, or index of a level). */
struct phrase format_level(const struct frame *f, size_t column, double value);
/* "6000 – 7500 mm/min", "one – both": two values of a column. */
struct phrase format_step(const struct frame *f, size_t column, double from, double to);
/* "sides welded": a label inside a sentence. */
struct phrase format_label(const char *label);

/* Adds "sides welded, preheat and gas"; `last` stands before the last. */
void format_add_labels(const struct frame *f, const size_t *columns, size_t count, const char *last,
                       struct text *out);
/* Adds "02, 05 and 11": marks of rows; at most twelve are named, the rest counted. */
void format_add_marks(const struct frame *f, const size_t *rows, size_t count, struct text *out);
/* Adds "sides welded both, preheat 20 °C": `values` has one number for each of `columns`. */
void format_add_set_up(const struct frame *f, const double *values, const size_t *columns,
                       size_t count, struct text *out);

#endif
