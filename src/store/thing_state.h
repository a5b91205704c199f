/*
 * The state of a thing of the book as JSON, and back. Errors are those of store/db.h.
 */
#ifndef STORE_THING_STATE_H
#define STORE_THING_STATE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/error.h"
#include "base/text.h"
#include "store/book.h"
#include "store/journal.h"

const char *thing_table(enum thing thing);
/* What the user calls it: "coupon", "own variable". */
const char *thing_name(enum thing thing);
const char *thing_label(enum thing thing); /* the column that holds its mark or name */
/* THINGS when no thing has such a table. */
enum thing thing_from_table(const char *table);

/* NULL when there is no such row; the caller frees *out. */
int thing_state(struct book *book, enum thing thing, int64_t id, char **out, struct error *e);
/* In place of what is there; its revision goes up. A state of NULL takes the thing away. */
int thing_put(struct book *book, enum thing thing, int64_t id, const char *state, struct error *e);
/* Adds a SELECT of the rows a state (":key") has of a table with rows that belong to it, as they
 * would be selected from that table. */
int thing_rows_of_state(struct book *book, const char *table, struct text *sql, struct error *e);
/* Of a state without its revision, which goes up with every step back and forth; 0 of none. */
int64_t thing_digest(const char *state);
/* 1 when the thing is in this state, but for its revision; 0 when not; or -1. */
int thing_is_in_state(struct book *book, enum thing thing, int64_t id, const char *state,
                      struct error *e);
void thing_forget_sql(struct book *book); /* when the book closes, or its schema changed */

#endif
