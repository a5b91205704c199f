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
#include <sys/types.h>
#include <time.h>

#include "base/error.h"
#include "store/book.h"
#include "store/journal.h"

struct query;

enum { DB_WAIT_FOR_OTHERS_MS = 10000 };
enum { MOST_PARTS = 8 }; /* tables with rows of one thing, and an end */

/* The change that is going on. */
struct journal {
    char *bench, *who, *what;
    int64_t change; /* its number; 0: nothing was changed yet */
    int level;      /* of the transaction it was begun in */
    enum thing made;
    int64_t made_first, made_last; /* made one behind the other, not written yet; 0: none */
};
void journal_free(struct book *book);

struct book {
    sqlite3 *sqlite;
    char *path;               /* as given */
    const char *cannot_write; /* why saves are refused; NULL: they are not */
    struct {
        bool known; /* the file that was opened */
        dev_t device;
        ino_t inode;
        struct timespec written; /* when SQLite last read from it or wrote, its state was this */
        off_t size;
        long looks; /* how often that was no longer so */
    } place;
    char *remark;           /* of book_remark() */
    int64_t version_found;  /* of the schema, before it was brought up to date */
    bool open;              /* book_open() is done: what changes now is the user's */
    int64_t day_looked;     /* for a backup of the day, as auto_day() counts */
    bool begun;             /* between book_begin() and its end */
    bool whole, failed;     /* begun with book_begin_whole(), and a save in it has failed */
    int depth;              /* of transaction_enter() */
    struct query **queries; /* prepared, kept for the next use */
    size_t query_count, query_capacity, query_last; /* found last */
    struct thing_sql {                              /* made by thing_state.c when first needed */
        char *get, *put, *put_part[MOST_PARTS];
    } thing_sql[THINGS];
    struct journal journal;
    struct variable_id *variables;                           /* sorted by id */
    size_t variable_count, variable_capacity, variable_last; /* found last */
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
