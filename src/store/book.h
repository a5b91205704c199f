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

#include "base/error.h"

struct book;

enum book_mode {
    BOOK_READ,  /* must exist; nothing is written */
    BOOK_WRITE, /* must exist; where it cannot be written it opens for reading, saves say why not */
    BOOK_CREATE, /* as BOOK_WRITE; made, with its parent directories, when missing or empty */
};

/*
 * Opens the book at `path` (a symbolic link is followed). A book of an older schema is brought up
 * to date first; a newer one, or a file that is no book, is refused and left as it was. The caller
 * closes *out, which is NULL after an error.
 */
int book_open(struct book **out, const char *path, enum book_mode mode, struct error *e);
void book_close(struct book *book); /* NULL is fine; an open transaction is rolled back */
const char *book_path(const struct book *book); /* as given to book_open() */
/* Why saves are refused, as in "the file can only be read"; NULL: they are not. */
const char *book_read_only(const struct book *book);

/*
 * Several saves in one transaction. Between begin and commit a save that fails leaves the earlier
 * ones in place, unless the disk failed: then all of it is undone and book_commit() says so.
 * A save outside of a transaction makes its own. Not nested.
 * After a rollback, coupons and trials saved since the begin carry ids and revisions that are not
 * in the book: load them again.
 */
int book_begin(struct book *book, struct error *e);
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

#endif
