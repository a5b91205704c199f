/*
 * Pieces that the JSON of rankings, next coupons and comparisons share: values of a frame as JSON,
 * in the units shown, as format.h puts them as text.
 */
#ifndef ANALYSIS_FORMAT_JSON_H
#define ANALYSIS_FORMAT_JSON_H

#include "analysis/trial_data.h"
#include "exchange/json.h"

/* schema, trial and result; the caller adds to it and ends with format_json_finish(). */
struct json *format_json_start(const struct trial_data *data);
/* Adds the caution, drops the tree; the caller frees the text. */
char *format_json_finish(struct json *root);
/* A value of a column: a number, or the name of a level. */
void format_json_level(struct json *object, const char *key, const struct frame *f, size_t column,
                       double value);
/* A result, a difference of two results. */
void format_json_result(struct json *object, const char *key, const struct frame *f, double value);
void format_json_change(struct json *object, const char *key, const struct frame *f, double change);
/* "effect", "low" and "high": a difference of two results and its interval. */
void format_json_effect(struct json *object, const struct frame *f, double effect, double low,
                        double high);
/* Adds keys of columns, marks of rows to an array. */
void format_json_keys(struct json *array, const struct frame *f, const size_t *columns,
                      size_t count);
void format_json_marks(struct json *array, const struct frame *f, const size_t *rows, size_t count);

#endif
