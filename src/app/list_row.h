/* A coupon as a row of a list: of the command `list`, and of the first screen. */
#ifndef APP_LIST_ROW_H
#define APP_LIST_ROW_H

#include <stdbool.h>

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"

struct list_row {
    long number;                          /* of the coupon in the book */
    char *mark, *when, *changed, *result; /* NULL: not read yet */
    bool struck;
};

/* `before` (NULL: none) is the coupon in use before it in its trial, `result` what the trial is
 * judged by. The caller frees it with list_row_free(). */
struct list_row list_row_make(const struct session *s, const struct coupon *c,
                              const struct coupon *before, const struct variable *result);
/* The same from the book. -1 with the error of the store, *out then being what it was. */
int list_row_read(struct session *s, long number, const struct variable *result,
                  struct list_row *out, struct error *e);
void list_row_free(struct list_row *row);

/* Whether the row, or the coupon's welder, note or values as entered hold these letters, in
 * whatever case. */
bool list_row_holds(const struct list_row *row, const struct coupon *c, const char *letters);

/* False for letters that no row can hold in what it works out: what changed, the result, the day,
 * numbers in their units. They can only be in what is kept as it was written. */
bool list_row_may_say(const struct session *s, const struct variable *result, const char *letters);

#endif
