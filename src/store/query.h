/*
 * Typed statements: values are bound by type and name, columns are read by name, and an absent
 * number is NAN here and NULL in the book.
 *
 *     struct query *q = query_begin(book, "SELECT mark FROM coupon WHERE id = :key", id, e);
 *
 *     while ((got = query_next(q, e)) > 0)
 *         say(query_text(q, "mark"));
 *     return got;
 *
 * A statement is prepared once and kept. It is over when query_next() has returned 0 or -1, or with
 * query_end(); until another begins it can be run again with other values. One that cannot be
 * prepared is NULL: nothing is put into it, and query_next() returns -1, so that its failure need
 * be looked at only once. Kinds of errors are those of store/db.h.
 */
#ifndef STORE_QUERY_H
#define STORE_QUERY_H

#include <stdbool.h>
#include <stdint.h>

#include "base/clock.h"
#include "base/error.h"
#include "store/book.h"

struct query;

/* `key` (NULL: none) is put in as ":key". The book owns the query. */
struct query *query_begin(struct book *book, const char *sql, const char *key, struct error *e);
/* The same with a whole number as the key. */
struct query *query_begin_number(struct book *book, const char *sql, int64_t key, struct error *e);
/* Begins storing a row of these columns (NULL behind the last), each to be put in by its name. A
 * row that has the same value in the column `key` is replaced; NULL: there must be none. Table and
 * key must be constant texts. */
struct query *query_begin_row(struct book *book, const char *table, const char *const *columns,
                              const char *key, struct error *e);
void query_forget_all(struct book *book); /* before closing, or after a change of schema */

/* Text must be UTF-8 without control characters, else query_next() fails with ERROR_INPUT; NULL is
 * NULL, and so is the number NAN. A name that is not in the statement is a programmer's error. */
void query_put_text(struct query *q, const char *name, const char *text);
void query_put_real(struct query *q, const char *name, double value);
void query_put_int(struct query *q, const char *name, int64_t value);
/* PREFIX_utc_ms and PREFIX_offset_min, the prefix with its colon. */
void query_put_instant(struct query *q, const char *prefix, struct instant when);

int query_next(struct query *q, struct error *e); /* 1: a row, 0: no more, -1: failed */
int query_run(struct query *q, struct error *e);  /* to the end; 0 or -1 */
void query_end(struct query *q);

/* The first column of the first row, a whole number; without a row *out stays. 0 or -1. */
int query_number(struct book *book, const char *sql, const char *key, int64_t *out,
                 struct error *e);
/* Deletes the rows of a table whose `column` holds `key`. */
int query_delete(struct book *book, const char *table, const char *column, int64_t key,
                 struct error *e);
/* The number the last row stored was given. */
int64_t query_last_id(const struct book *book);

/* The columns of the row query_next() came to. A name that is not there is a programmer's error. */
const char *query_text(struct query *q, const char *column);  /* until the next row; "" */
const char *query_maybe(struct query *q, const char *column); /* the same; NULL stays NULL */
char *query_copy(struct query *q, const char *column);        /* the caller owns it; NULL */
double query_real(struct query *q, const char *column);       /* NAN */
int64_t query_int(struct query *q, const char *column);       /* 0 */
struct instant query_instant(struct query *q, const char *prefix);

#endif
