/* Striking a trial out with its coupons, and taking it back. */
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/struck.h"
#include "store/transaction.h"
#include "store/trials.h"

/* What the book has of a trial. */
struct stored {
    int64_t number;
    bool struck;
};

static int find_stored(struct book *book, const struct trial *t, struct stored *out,
                       struct error *e)
{
    struct query *q = query_begin(book, "SELECT * FROM trial WHERE uuid = :key", t->id, e);
    int got = query_next(q, e);

    if (got < 0)
        return -1;
    if (got == 0)
        return error_set(e, ERROR_INPUT, "%s: this trial is not in the book", book->path);
    *out = (struct stored){query_int(q, "id"), query_maybe(q, "struck_utc_ms") != NULL};
    query_end(q);
    return 0;
}

/* Those in use when it is struck out; those that were struck out with it when it is taken back. */
#define COUPONS_WITH_IT                                                                            \
    " trial_id = :key AND iif(:back, (struck_utc_ms, struck_why) = (SELECT struck_utc_ms,"         \
    " struck_why FROM trial WHERE id = :key), struck_utc_ms IS NULL)"

static int keep_coupons(struct book *book, int64_t trial, bool back, struct error *e)
{
    int64_t last = 0;
    int got = 1;

    while (got > 0) {
        struct query *q = query_begin_number(book,
                                             "SELECT id FROM coupon WHERE" COUPONS_WITH_IT
                                             " AND id > :last ORDER BY id LIMIT 1",
                                             trial, e);

        query_put_int(q, ":back", back);
        query_put_int(q, ":last", last);
        got = query_next(q, e);
        if (got > 0) {
            last = query_int(q, "id");
            query_end(q);
        }
        if (got > 0 && journal_keep(book, THING_COUPON, last, e) < 0)
            got = -1;
    }
    return got;
}

/* why == NULL takes it back. The coupons first: they are known by the time of their trial. */
static int set_struck(struct book *book, int64_t trial, const char *why, struct error *e)
{
    struct instant now = clock_now();
    struct query *q = struck_begin(book, "coupon", COUPONS_WITH_IT, trial, why, now, e);

    query_put_int(q, ":back", why == NULL);
    if (query_run(q, e) < 0)
        return -1;
    return query_run(struck_begin(book, "trial", "id = :key", trial, why, now, e), e);
}

/* A mark may have been changed meanwhile to that of another. */
static int refuse_same_marks(struct book *book, int64_t trial, struct error *e)
{
    struct query *q = query_begin_number(book,
                                         "SELECT mark FROM coupon WHERE" COUPONS_WITH_IT
                                         " GROUP BY mark HAVING count(*) > 1 LIMIT 1",
                                         trial, e);
    int got;

    query_put_int(q, ":back", true);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    error_set(e, ERROR_INPUT,
              "%s: two of its coupons would bear the mark %s; give one another mark first",
              book->path, query_text(q, "mark"));
    query_end(q);
    return -1;
}

static int strike_or_restore(struct book *book, const struct trial *t, const char *why,
                             struct error *e)
{
    struct stored stored = {0};

    if (find_stored(book, t, &stored, e) < 0)
        return -1;
    if (stored.struck == (why != NULL))
        return error_set(e, ERROR_INPUT, "trial %s is %s", t->name,
                         stored.struck ? "struck out already" : "not struck out");
    if ((why == NULL && (trial_name_is_free(book, t->name, t->id, e) < 0 ||
                         refuse_same_marks(book, stored.number, e) < 0)) ||
        keep_coupons(book, stored.number, why == NULL, e) < 0 ||
        journal_keep(book, THING_TRIAL, stored.number, e) < 0)
        return -1;
    return set_struck(book, stored.number, why, e);
}

int trial_strike(struct book *book, const struct trial *t, const char *why, struct error *e)
{
    if (struck_needs_reason("trial", why, e) < 0 || transaction_enter(book, e) < 0)
        return -1;
    return transaction_leave(book, strike_or_restore(book, t, why, e), e);
}

int trial_restore(struct book *book, const struct trial *t, struct error *e)
{
    if (transaction_enter(book, e) < 0)
        return -1;
    return transaction_leave(book, strike_or_restore(book, t, NULL, e), e);
}
