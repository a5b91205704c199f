/*
 * The typed layer over SQLite, for this folder only: values are bound by type and name, columns are
 * read by name, and an absent number is NAN here and NULL there.
 *
 * A statement is prepared once and kept. A query is used like this:
 *
 *     struct query *q = db_query(book, "SELECT mark FROM coupon WHERE id = :id", e);
 *
 *     if (q == NULL)
 *         return -1;
 *     query_put_text(q, ":id", id);
 *     while ((got = query_next(q, e)) > 0)
 *         say(query_text(q, "mark"));
 *     return got;
 *
 * and is over when query_next() has returned 0 or -1, or with query_end().
 */
#ifndef STORE_DB_H
#define STORE_DB_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/clock.h"
#include "base/error.h"
#include "store/book.h"

struct query;

struct book {
    sqlite3 *sqlite;
    char *path;               /* as given */
    const char *cannot_write; /* why saves are refused; NULL: they are not */
    bool begun;               /* between book_begin() and its end */
    int depth;                /* of db_enter() */
    struct query **queries;   /* prepared, kept for the next use */
    size_t query_count, query_capacity;
    char *history_sql[4]; /* made by history.c when first needed */
};

/* NULL with `e` filled in when it cannot be prepared. */
struct query *db_query(struct book *book, const char *sql, struct error *e);
int db_run(struct book *book, const char *sql, struct error *e); /* no values, no rows */
/* One whole number from a statement without values: a PRAGMA, a count. */
int db_number(struct book *book, const char *sql, int64_t *out, struct error *e);
void db_forget_queries(struct book *book); /* before closing, or after a change of schema */

/* Text must be UTF-8 without control characters, NULL is NULL. Numbers: NAN is NULL. */
void query_put_text(struct query *q, const char *name, const char *text);
void query_put_real(struct query *q, const char *name, double value);
void query_put_int(struct query *q, const char *name, int64_t value);
void query_put_null(struct query *q, const char *name);
/* PREFIX_utc_ms and PREFIX_offset_min, the prefix with its colon. */
void query_put_instant(struct query *q, const char *prefix, struct instant when);

int query_next(struct query *q, struct error *e); /* 1: a row, 0: no more, -1: failed */
int query_run(struct query *q, struct error *e);  /* to the end; 0 or -1 */
void query_end(struct query *q);
/* Deletes the rows of each table whose `column` holds `id`. */
int db_clear(struct book *book, const char *const *tables, size_t count, const char *column,
             const char *id, struct error *e);

/* The columns of the row query_next() came to. A name that is not there is a programming error. */
const char *query_text(struct query *q, const char *column);  /* until the next row; "" */
const char *query_maybe(struct query *q, const char *column); /* the same; NULL stays NULL */
char *query_copy(struct query *q, const char *column);        /* the caller owns it; NULL */
double query_real(struct query *q, const char *column);       /* NAN */
int64_t query_int(struct query *q, const char *column);       /* 0 */
bool query_null(struct query *q, const char *column);
struct instant query_instant(struct query *q, const char *prefix);

/*
 * A save is wrapped in enter and leave: all of it is stored or nothing. Outside of book_begin() it
 * is a transaction of its own, inside a part that can be undone alone. `result` is what the save
 * came to; leave returns it, or -1 when it cannot be stored.
 */
int db_enter(struct book *book, struct error *e);
int db_leave(struct book *book, int result, struct error *e);
/* The same for reading several tables in one state. */
int db_enter_reading(struct book *book, struct error *e);
int db_leave_reading(struct book *book, int result, struct error *e);

/* A copy of the whole book that is in no file; the caller closes *out. */
int db_copy_to_memory(struct book *book, sqlite3 **out, struct error *e);

/* `path` so that SQLite takes it as a file, also "file:x" or ":memory:". The caller owns it. */
char *db_file_name(const char *path);

/* Says what SQLite's last failure means for the user; returns -1. */
int db_failed(struct book *book, int code, struct error *e);
/* "; nothing of this was stored" while something is being written, else "". */
const char *db_undone(const struct book *book);
/* In a row that no program of ours can have written. Returns -1. */
int db_damaged(struct book *book, const char *what, struct error *e);

#endif
