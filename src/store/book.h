/*
 * The book: one SQLite file that holds everything. It is opened, written in transactions, checked
 * and copied here; what is in it is read and saved through the other headers of this folder.
 *
 * Any number of programs may have a book open; one writes at a time, the others wait up to ten
 * seconds for it. What a save has reported as stored is on the disk, also after a power cut. What
 * fails stores nothing: every error line about writing says so.
 *
 * Errors: ERROR_INPUT for a file that is not a book this program can take, or a row the book does
 * not take; ERROR_SYSTEM for permissions, disk and other programs.
 */
#ifndef STORE_BOOK_H
#define STORE_BOOK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/error.h"

struct book;

enum book_mode {
    BOOK_READ,  /* must exist; nothing is written */
    BOOK_LOOK,  /* the same; one of an older schema stays as it is, too: it is read from a copy */
    BOOK_WRITE, /* must exist; where it cannot be written it opens for reading, saves say why not */
    BOOK_CREATE, /* as BOOK_WRITE; made, with its parent directories, when missing or empty */
};

/*
 * Opens the book at `path` (a symbolic link is followed). A book of an older schema is brought up
 * to date first; a newer one, or a file that is no book, is refused and left as it was. The caller
 * closes *out, which is NULL after an error.
 */
int book_open(struct book **out, const char *path, enum book_mode mode, struct error *e);
/* Told, from now on, while a book is brought up to date: the part that is done, 0 to 1, which is an
 * estimate. NULL: nobody is. */
void book_watch(bool (*show)(void *context, double done), void *context);
void book_close(struct book *book); /* NULL is fine; an open transaction is rolled back */
const char *book_path(const struct book *book); /* as given to book_open() */
/* Why saves are refused, as in "the file can only be read"; NULL: they are not. */
const char *book_read_only(const struct book *book);

/* What there is to say beside what was asked for, as that no backup of today could be made: once;
 * NULL: nothing. The caller frees it. */
char *book_remark(struct book *book);

/* Whether the file was moved, removed or replaced by another since it was opened; nothing can be
 * stored until it is back. BOOK_MOVED_TEXT says so of a path. */
bool book_moved(const struct book *book);
#define BOOK_MOVED_TEXT                                                                            \
    "%s: the book was moved, removed or replaced while it was open; nothing of this was stored: "  \
    "put it back, or start coldlap again"

/* For a program that goes on waiting with the book open: brings what SQLite keeps beside the book
 * (the -wal file) into it, unless another program is at it just now. A book at rest can be moved
 * and replaced without harm; else what lies beside it would be taken for changes to the next file
 * of that name. */
void book_rest(struct book *book);

/*
 * Several saves in one transaction. Between begin and commit a save that fails leaves the earlier
 * ones in place, unless the disk failed: then all of it is undone and book_commit() says so.
 * A save outside of a transaction makes its own. Not nested.
 * After a rollback, coupons and trials saved since the begin carry ids and revisions that are not
 * in the book: load them again.
 */
int book_begin(struct book *book, struct error *e);
/* The same for saves that are stored all or not at all: after one has failed only a rollback is
 * left, and book_commit() makes it. Each save takes less time, as none is undone alone. */
int book_begin_whole(struct book *book, struct error *e);
int book_commit(struct book *book, struct error *e); /* after an error it is rolled back */
void book_rollback(struct book *book);               /* does nothing when no transaction is open */

/* A number that changes when another connection (mostly another program) has changed the book;
 * own saves do not change it. -1 when it cannot be read. */
long book_change_counter(struct book *book);

/*
 * Looks the whole book over: the file's structure, rows that refer to missing ones, passes not
 * numbered 1, 2, 3 …, values of unknown variables or beyond what is possible, flaws beyond the
 * bead. Every fault is told to `say` in one line; `say` must not use the book. Returns 0 when there
 * is none; else negative, with their number in `e` (ERROR_INPUT).
 */
int book_check(struct book *book, void (*say)(void *ctx, const char *line), void *ctx,
               struct error *e);

/* A whole copy in a new file at `to`, as private as the book, also while others write. Never
 * overwrites; an interrupted copy leaves no file of that name, and what it leaves beside it
 * (NAME.PID.coldlap-part) is removed by the next backup into that folder. */
int book_backup(struct book *book, const char *to, struct error *e);

/* An automatic backup: made before the first change of a day and before a book of an older schema
 * is brought up to date, and dropped by a rule that is in the manual. */
struct book_copy {
    char *name, *when, *why; /* of the file, "2026-03-07 14:05", "before first change" */
    int64_t bytes;
};
struct book_copies {
    struct book_copy *items;
    size_t count, capacity;
    char *folder; /* where they are, or would be */
};
/* Those of the book at `path`, the earliest first. *out must be zeroed; the caller frees it. */
int book_copies_list(const char *path, struct book_copies *out, struct error *e);
void book_copies_free(struct book_copies *list);

/*
 * Takes a copy of the book `from`, which must be in order, in the place of the one at `path`, while
 * no other program has that open. The old one, if there is one, is kept under the name *kept (the
 * caller frees it), with what a crash may have left beside it. Whatever interrupts this leaves the
 * old or the new book whole under `path`. `from` stays, also in its schema.
 */
int book_put_back(const char *path, const char *from, char **kept, struct error *e);

/*
 * Makes a new book `to` of all that can be read of the damaged one at `path`, which is not touched.
 * Tells in one line each what could not be: places in tables, with the coupons that may lack rows
 * of them, and rows the book does not take. Of what others belong to and is lost, its number is
 * kept, under the name "lost". `to` must not be there (ERROR_INPUT); it is there when this
 * succeeds.
 */
int book_recover(const char *path, const char *to, void (*say)(void *context, const char *line),
                 void *context, struct error *e);

#endif
