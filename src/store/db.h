/*
 * An open book within this folder, and what SQLite's failures mean in plain words.
 *
 * Functions return 0, or -1 with ERROR_SYSTEM for the disk, permissions and other programs, and
 * ERROR_INPUT for a damaged book, a file that is none, and what the schema does not take.
 */
#ifndef STORE_DB_H
#define STORE_DB_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "store/book.h"

struct query;

struct book {
    sqlite3 *sqlite;
    char *path;               /* as given */
    const char *cannot_write; /* why saves are refused; NULL: they are not */
    bool begun;               /* between book_begin() and its end */
    int depth;                /* of transaction_enter() */
    struct query **queries;   /* prepared, kept for the next use */
    size_t query_count, query_capacity;
    char *history_sql[4]; /* made by history.c when first needed */
};

/* Runs statements without values or rows. */
int db_run(struct book *book, const char *sql, struct error *e);

/* `path` so that SQLite takes it as a file, also "file:x" or ":memory:". The caller owns it. */
char *db_file_name(const char *path);

/* Says what SQLite's last failure, with this result code, means for the user; returns -1. */
int db_failed(struct book *book, int code, struct error *e);
/* Says that the book holds what this program never writes (ERROR_INPUT); returns -1. */
int db_damaged(struct book *book, const char *what, struct error *e);
/* "; nothing of this was stored" while something is being written, else "". */
const char *db_undone(const struct book *book);

#endif
