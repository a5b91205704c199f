/* Saving a coupon, striking it out and taking it back, and its mark. */
#include "store/coupons.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "store/coupon_rows.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/settings.h"
#include "store/struck.h"
#include "store/thing_state.h"
#include "store/transaction.h"
#include "store/trials.h"

/* What a save decides; it goes into the coupon only when all of it is stored. */
struct head {
    char uuid[ID_SIZE];
    char made_mark[MARK_SIZE];
    const char *mark;
    struct instant when;
    int64_t number, revision, trial; /* in the book; 0: none */
};

/* Longer numbers are dates or the like, stamped by somebody with a system of his own. */
#define MARK_HEAD "rtrim(mark, '0123456789') COLLATE NOCASE"
#define MARK_NUMBER "CAST(substr(mark, length(rtrim(mark, '0123456789')) + 1) AS INTEGER)"
static const char highest_number[] =
    "SELECT " MARK_NUMBER " FROM coupon WHERE " MARK_HEAD " = :key AND " MARK_NUMBER " < 1000000"
    " ORDER BY " MARK_NUMBER " DESC LIMIT 1";

int coupon_next_mark(struct book *book, char *out, size_t size, struct error *e)
{
    char *letter = NULL;
    int64_t number = 0;
    int rc = setting_get(book, "bench_letter", &letter, e);
    const char *head = letter != NULL ? letter : "";

    if (rc == 0)
        rc = query_number(book, highest_number, head, &number, e);
    if (rc == 0)
        snprintf(out, size, "%s%02lld", head, (long long)number + 1);
    free(letter);
    return rc;
}

static int name_holder(struct book *book, const char *mark, struct query *holder, struct error *e)
{
    const char *trial = query_text(holder, "trial");
    char day[32];

    clock_format_short(day, sizeof day, query_instant(holder, "when"));
    error_set(
        e, ERROR_INPUT,
        "%s: the mark %s is on the coupon %s of %s%s%s; take another mark, or strike that one "
        "out first",
        book->path, mark, query_text(holder, "mark"), day, trial[0] != '\0' ? ", trial " : "",
        trial);
    query_end(holder);
    return -1;
}

/* Two coupons of a trial in use must not bear the same mark. */
static int mark_is_free(struct book *book, const char *mark, int64_t trial, int64_t number,
                        struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT c.*, t.name AS trial"
                                  " FROM coupon AS c LEFT JOIN trial AS t ON t.id = c.trial_id"
                                  " WHERE c.mark = :key AND coalesce(c.trial_id, 0) = :trial"
                                  " AND c.struck_utc_ms IS NULL AND c.id <> :number",
                                  mark, e);
    int got;

    query_put_int(q, ":trial", trial);
    query_put_int(q, ":number", number);
    got = query_next(q, e);
    return got > 0 ? name_holder(book, mark, q, e) : got;
}

static int choose_head(struct book *book, const struct coupon *c, struct head *h, struct error *e)
{
    h->mark = c->mark;
    h->when = clock_or_now(c->when);
    if (h->mark == NULL || h->mark[0] == '\0') {
        if (coupon_next_mark(book, h->made_mark, sizeof h->made_mark, e) < 0)
            return -1;
        h->mark = h->made_mark;
    }
    if (c->trial[0] != '\0' && trial_number(book, c->trial, &h->trial, e) < 0)
        return -1;
    return c->trial[0] == '\0' || h->trial != 0
               ? 0
               : error_set(e, ERROR_INPUT, "%s: the trial of coupon %s is not in the book",
                           book->path, h->mark);
}

static void put_head(struct query *q, const struct coupon *c, const struct head *h)
{
    query_put_int(q, ":revision", h->revision);
    if (h->trial != 0)
        query_put_int(q, ":trial_id", h->trial);
    query_put_text(q, ":mark", h->mark);
    query_put_instant(q, ":when", h->when);
    query_put_text(q, ":who", c->who);
    query_put_text(q, ":note", c->note);
}

static int insert_coupon(struct book *book, const struct coupon *c, struct head *h, struct error *e)
{
    static const char *const columns[] = {"uuid", "revision",    "trial_id",
                                          "mark", "when_utc_ms", "when_offset_min",
                                          "who",  "note",        NULL};
    struct query *q;

    id_new(h->uuid);
    h->revision = 1;
    if (choose_head(book, c, h, e) < 0 || trial_refuse_struck(book, h->trial, e) < 0)
        return -1;
    q = query_begin_row(book, "coupon", columns, NULL, e);
    query_put_text(q, ":uuid", h->uuid);
    put_head(q, c, h);
    if (query_run(q, e) == 0) {
        h->number = query_last_id(book);
        return 0;
    }
    if (sqlite3_extended_errcode(book->sqlite) == SQLITE_CONSTRAINT_UNIQUE)
        mark_is_free(book, h->mark, h->trial, 0, e); /* names who has it */
    return -1;
}

/* What the book has of a coupon. */
struct stored {
    int64_t revision, trial;
    bool struck;
    char mark[MARK_SIZE];
};

static int find_stored(struct book *book, const struct coupon *c, struct stored *out,
                       struct error *e)
{
    struct query *q =
        query_begin(book, "SELECT * FROM coupon WHERE id = :number AND uuid = :key", c->id, e);
    int got;

    query_put_int(q, ":number", c->sequence);
    got = query_next(q, e);
    if (got == 0)
        return error_set(e, ERROR_INPUT, "%s: this coupon is not in the book", book->path);
    if (got < 0)
        return -1;
    out->revision = query_int(q, "revision");
    out->trial = query_int(q, "trial_id");
    out->struck = query_maybe(q, "struck_utc_ms") != NULL;
    snprintf(out->mark, sizeof out->mark, "%s", query_text(q, "mark"));
    query_end(q);
    return 0;
}

static int refuse_changed(const struct book *book, const char *mark, struct error *e)
{
    return error_set(e, ERROR_INPUT,
                     "%s: coupon %s was changed by another program meanwhile; nothing of this was "
                     "stored: look at it again and enter the change again",
                     book->path, mark);
}

static int write_changed(struct book *book, const struct coupon *c, const struct head *h,
                         struct error *e)
{
    struct query *q =
        query_begin_number(book,
                           "UPDATE coupon SET (revision, trial_id, mark, when_utc_ms,"
                           " when_offset_min, who, note) = (:revision, :trial_id, :mark,"
                           " :when_utc_ms, :when_offset_min, :who, :note) WHERE id = :key",
                           h->number, e);

    put_head(q, c, h);
    return query_run(q, e);
}

static int update_coupon(struct book *book, const struct coupon *c, struct head *h, struct error *e)
{
    struct stored stored;

    memcpy(h->uuid, c->id, sizeof h->uuid);
    if (find_stored(book, c, &stored, e) < 0)
        return -1;
    if (stored.revision != c->revision)
        return refuse_changed(book, stored.mark, e);
    h->revision = stored.revision + 1;
    h->number = c->sequence;
    if (choose_head(book, c, h, e) < 0 ||
        (h->trial != stored.trial && trial_refuse_struck(book, h->trial, e) < 0) ||
        (!stored.struck && mark_is_free(book, h->mark, h->trial, h->number, e) < 0) ||
        journal_keep(book, THING_COUPON, h->number, e) < 0 || write_changed(book, c, h, e) < 0)
        return -1;
    return coupon_rows_clear(book, h->number, e);
}

static void take_head(struct coupon *c, const struct head *h)
{
    memcpy(c->id, h->uuid, sizeof c->id);
    if (h->mark == h->made_mark)
        mem_replace(&c->mark, h->made_mark);
    c->when = h->when;
    c->sequence = (long)h->number;
    c->revision = (long)h->revision;
}

static int write_rows(struct book *book, const struct coupon *c, const struct head *h,
                      struct error *e)
{
    return coupon_rows_write(book, c, h->number, e) < 0 ? error_where(e, "coupon %s", h->mark) : 0;
}

static int save_new(struct book *book, const struct coupon *c, struct head *h, struct error *e)
{
    if (insert_coupon(book, c, h, e) < 0 || write_rows(book, c, h, e) < 0)
        return -1;
    return journal_made(book, THING_COUPON, h->number, e);
}

/* As it was: what was stored is rolled back like a failure, but none is said. */
enum { UNCHANGED = -2 };

static int save_changed(struct book *book, const struct coupon *c, struct head *h, struct error *e)
{
    char *before = NULL;
    int rc = thing_state(book, THING_COUPON, c->sequence, &before, e);

    if (rc == 0)
        rc = update_coupon(book, c, h, e);
    if (rc == 0)
        rc = write_rows(book, c, h, e);
    if (rc == 0)
        rc = thing_is_in_state(book, THING_COUPON, h->number, before, e);
    free(before);
    return rc > 0 ? UNCHANGED : rc;
}

int coupon_save(struct book *book, struct coupon *c, struct error *e)
{
    struct head h = {0};
    int rc;

    if (transaction_enter(book, e) < 0)
        return -1;
    rc = c->id[0] == '\0' ? save_new(book, c, &h, e) : save_changed(book, c, &h, e);
    rc = transaction_leave(book, rc, e);
    if (rc == 0)
        take_head(c, &h);
    return rc == UNCHANGED ? 0 : rc;
}

/* why == NULL takes it back. */
static int strike_or_restore(struct book *book, const struct coupon *c, const char *why,
                             struct error *e)
{
    struct stored stored;

    if (find_stored(book, c, &stored, e) < 0)
        return -1;
    if (stored.struck == (why != NULL))
        return error_set(e, ERROR_INPUT, "coupon %s is %s", stored.mark,
                         stored.struck ? "struck out already" : "not struck out");
    if (why == NULL && trial_refuse_struck(book, stored.trial, e) < 0)
        return -1;
    if (why == NULL && mark_is_free(book, stored.mark, stored.trial, c->sequence, e) < 0)
        return -1;
    if (journal_keep(book, THING_COUPON, c->sequence, e) < 0)
        return -1;
    return query_run(struck_begin(book, "coupon", "id = :key", c->sequence, why, clock_now(), e),
                     e);
}

int coupon_strike(struct book *book, const struct coupon *c, const char *why, struct error *e)
{
    if (struck_needs_reason("coupon", why, e) < 0 || transaction_enter(book, e) < 0)
        return -1;
    return transaction_leave(book, strike_or_restore(book, c, why, e), e);
}

int coupon_restore(struct book *book, const struct coupon *c, struct error *e)
{
    if (transaction_enter(book, e) < 0)
        return -1;
    return transaction_leave(book, strike_or_restore(book, c, NULL, e), e);
}
