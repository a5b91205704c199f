#include "store/migrate.h"

#include <stdio.h>

#include "store/db.h"
#include "store/query.h"
#include "store/transaction.h"

/* SQLite does about so many of its instructions for each row of the tables of coupons, 0.1.0's. */
enum { BETWEEN_LOOKS = 100000, INSTRUCTIONS_A_ROW = 150 };

static struct {
    bool (*show)(void *context, double done);
    void *context;
    double done, all; /* instructions */
} watch;

void book_watch(bool (*show)(void *context, double done), void *context)
{
    watch.show = show;
    watch.context = context;
}

static int look(void *unused)
{
    (void)unused;
    watch.done += BETWEEN_LOOKS;
    watch.show(watch.context, watch.done < 0.99 * watch.all ? watch.done / watch.all : 0.99);
    return 0;
}

static void begin_watch(struct book *book)
{
    int64_t rows = 0;

    query_number(book,
                 "SELECT (SELECT count(*) FROM coupon) + (SELECT count(*) FROM value)"
                 " + (SELECT count(*) FROM pass) + (SELECT count(*) FROM flaw)",
                 NULL, &rows, NULL);
    watch.done = 0;
    watch.all = (double)(rows + 1) * INSTRUCTIONS_A_ROW;
    sqlite3_progress_handler(book->sqlite, BETWEEN_LOOKS, look, NULL);
}

/* Steps may rebuild tables with foreign keys off, so the references are looked over before commit.
 */
static int references_hold(struct book *book, struct error *e)
{
    int64_t broken = 0;

    if (query_number(book, "SELECT count(*) FROM pragma_foreign_key_check", NULL, &broken, e) < 0)
        return -1;
    return broken == 0 ? 0 : db_damaged(book, "rows refer to others that are not there", e);
}

static int do_step(struct book *book, const struct schema_step *step, struct error *e)
{
    char version[64];

    snprintf(version, sizeof version, "PRAGMA user_version = %d", step->number);
    if (db_run(book, step->sql, e) < 0 || db_run(book, version, e) < 0)
        return -1;
    return references_hold(book, e);
}

/* The version is read inside the transaction: another program may have done the step meanwhile. */
static int step_in_transaction(struct book *book, const struct schema_step *step, struct error *e)
{
    int64_t version = 0;
    int rc;

    if (transaction_enter(book, e) < 0)
        return -1;
    rc = query_number(book, "PRAGMA user_version", NULL, &version, e);
    if (rc == 0 && version < step->number)
        rc = do_step(book, step, e);
    return transaction_leave(book, rc, e);
}

int migrate(struct book *book, const struct schema *schema, struct error *e)
{
    int rc = db_run(book, "PRAGMA foreign_keys = OFF", e);

    if (watch.show != NULL)
        begin_watch(book);
    for (size_t i = 0; rc == 0 && i < schema->count; i++)
        if (step_in_transaction(book, &schema->steps[i], e) < 0)
            rc = error_where(e, "bringing the book to schema %d", schema->steps[i].number);
    if (watch.show != NULL)
        sqlite3_progress_handler(book->sqlite, 0, NULL, NULL);
    query_forget_all(book);
    if (db_run(book, "PRAGMA foreign_keys = ON", rc < 0 ? NULL : e) < 0)
        return -1;
    return rc;
}
