#include "store/transaction.h"

#include "store/auto_backup.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/place.h"
#include "store/query.h"
#include "store/variable_ids.h"

int transaction_level(const struct book *book)
{
    return book->depth + (book->begun ? 1 : 0);
}

static void rolled_back(struct book *book, int level)
{
    journal_rolled_back(book, level);
    variable_ids_forget(book);
}

/* They run again and again. */
static int run_kept(struct book *book, const char *sql, struct error *e)
{
    return query_run(query_begin(book, sql, NULL, e), e);
}

/* A failed disk makes SQLite roll back everything at once, without being asked. */
static bool undone_already(const struct book *book)
{
    return book->begun && sqlite3_get_autocommit(book->sqlite);
}

static int say_undone(struct book *book, struct error *e)
{
    return error_set(e, ERROR_SYSTEM,
                     "%s: an earlier failure has undone what was being stored together; nothing of "
                     "it was stored",
                     book->path);
}

/* Before the outermost transaction. */
static int make_ready(struct book *book, struct error *e)
{
    if (book->cannot_write != NULL)
        return error_set(e, ERROR_SYSTEM, "%s: %s; nothing of this was stored", book->path,
                         book->cannot_write);
    place_look(book);
    if (place_check(book, e) < 0)
        return -1;
    auto_before_change(book);
    return 0;
}

/* Inside of what is stored whole a save needs no part of its own: begin, end and undo are nothing
 * then. The save counts as begun. */
static int run_part(struct book *book, const char *part, const char *alone, struct error *e)
{
    if (transaction_level(book) == 1)
        return run_kept(book, alone, e);
    return book->whole ? 0 : run_kept(book, part, e);
}

static void undo_part(struct book *book, bool inside)
{
    book->failed = book->whole;
    if (!book->whole && !sqlite3_get_autocommit(book->sqlite))
        db_run(book, inside ? "ROLLBACK TO save; RELEASE save" : "ROLLBACK", NULL);
}

int transaction_enter(struct book *book, struct error *e)
{
    if (transaction_level(book) == 0 && make_ready(book, e) < 0)
        return -1;
    if (undone_already(book))
        return say_undone(book, e);
    book->depth++; /* first, so that a failure is worded as one of writing */
    if (run_part(book, "SAVEPOINT save", "BEGIN IMMEDIATE", e) < 0) {
        book->depth--;
        return -1;
    }
    return 0;
}

int transaction_leave(struct book *book, int rc, struct error *e)
{
    bool inside = transaction_level(book) > 1;

    if (rc >= 0 && sqlite3_get_autocommit(book->sqlite))
        rc = say_undone(book, e);
    if (rc >= 0 && !inside && (journal_finish(book, e) < 0 || place_check(book, e) < 0))
        rc = -1;
    if (rc >= 0 && run_part(book, "RELEASE save", "COMMIT", e) < 0)
        rc = -1;
    if (rc < 0)
        undo_part(book, inside);
    book->depth--;
    if (rc < 0)
        rolled_back(book, sqlite3_get_autocommit(book->sqlite) ? 0 : transaction_level(book));
    else
        journal_released(book, transaction_level(book));
    if (rc >= 0 && !inside)
        place_settle(book);
    return rc;
}

/* Inside a transaction the state is one already; else a deferred one makes it so. */
int transaction_enter_reading(struct book *book, struct error *e)
{
    return run_kept(book, "SAVEPOINT look", e);
}

int transaction_leave_reading(struct book *book, int rc, struct error *e)
{
    if (run_kept(book, "RELEASE look", rc < 0 ? NULL : e) < 0)
        return -1;
    return rc;
}

int book_begin(struct book *book, struct error *e)
{
    if (make_ready(book, e) < 0)
        return -1;
    book->begun = true;
    if (db_run(book, "BEGIN IMMEDIATE", e) == 0)
        return 0;
    book->begun = false;
    return -1;
}

int book_begin_whole(struct book *book, struct error *e)
{
    int rc = book_begin(book, e);

    book->whole = rc == 0;
    return rc;
}

static void ended(struct book *book)
{
    book->begun = book->whole = book->failed = false;
}

int book_commit(struct book *book, struct error *e)
{
    bool undone = book->failed || undone_already(book);
    int rc = undone ? say_undone(book, e) : journal_finish(book, e);

    if (rc == 0)
        rc = place_check(book, e);
    if (rc == 0)
        rc = db_run(book, "COMMIT", e);
    if (rc < 0)
        book_rollback(book);
    else
        place_settle(book);
    ended(book);
    return rc;
}

void book_rollback(struct book *book)
{
    if (book->begun && !sqlite3_get_autocommit(book->sqlite))
        db_run(book, "ROLLBACK", NULL);
    if (book->begun)
        rolled_back(book, 0);
    ended(book);
}
