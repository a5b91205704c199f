/*
 * The state of a thing of the book as JSON, and back. Errors are those of store/db.h.
 */
#ifndef STORE_THING_STATE_H
#define STORE_THING_STATE_H

#include <stdint.h>

#include "base/error.h"
#include "store/book.h"
#include "store/journal.h"

const char *thing_table(enum thing thing);
/* What the user calls it: "coupon", "own variable". */
const char *thing_name(enum thing thing);
/* THINGS when no thing has such a table. */
enum thing thing_from_table(const char *table);

/* NULL when there is no such row; the caller frees *out. */
int thing_state(struct book *book, enum thing thing, int64_t id, char **out, struct error *e);
/* In place of what is there; its revision goes up. A state of NULL takes the thing away. */
int thing_put(struct book *book, enum thing thing, int64_t id, const char *state, struct error *e);
void thing_forget_sql(struct book *book); /* when the book closes, or its schema changed */

#endif
