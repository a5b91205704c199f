/* Pieces that the JSON of rankings, next coupons and comparisons share. Internal to app/. */
#ifndef APP_ANSWER_JSON_H
#define APP_ANSWER_JSON_H

#include "app/answer.h"
#include "exchange/json.h"

/* schema, trial and result; the caller adds to it and ends with answer_json_finish(). */
struct json *answer_json_start(const struct subject *x);
/* Adds the caution, drops the tree; the caller frees the text. */
char *answer_json_finish(struct json *root);
/* A value of a column: a number, or the name of a level. */
void answer_put_level(struct json *object, const char *key, const struct frame *f, size_t column,
                      double value);
/* A result, a difference of two results, in the units shown. */
void answer_put_result(struct json *object, const char *key, const struct frame *f, double value);
void answer_put_change(struct json *object, const char *key, const struct frame *f, double change);
void answer_put_keys(struct json *object, const char *key, const struct frame *f,
                     const size_t *columns, size_t count);
void answer_put_marks(struct json *object, const char *key, const struct frame *f,
                      const size_t *rows, size_t count);

#endif
