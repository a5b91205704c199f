/*
 * A coupon as it was. The rows of a state are selected from its JSON in the form of the tables, so
 * they are taken as rows of the book are; a book that can only be read is enough.
 */
#include <stdlib.h>

#include "base/text.h"
#include "model/part.h"
#include "store/coupon_rows.h"
#include "store/coupons.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/thing_state.h"

/* The journal's rows of a coupon (:coupon): of one change (:key), of the next that holds, and of
 * all others. */
#define ROWS                                                                                       \
    "SELECT t.state, t.base, c.undone_utc_ms IS NOT NULL AS undone FROM touched AS t"              \
    " JOIN change AS c ON c.id = t.change_id WHERE t.kind = 'coupon' AND t.id <= :coupon"          \
    " AND coalesce(t.last_id, t.id) >= :coupon AND "
static const char of_change[] = ROWS "c.id = :key";
static const char of_next[] = ROWS "c.id > :key AND c.undone_utc_ms IS NULL ORDER BY c.id LIMIT 1";
static const char of_others[] = ROWS "c.id <> :key";

static int take_rows(struct book *book, const char *state, enum part_id id, struct coupon *out,
                     struct error *e)
{
    struct text sql = {0};
    struct query *q = NULL;
    int got = thing_rows_of_state(book, id == PARTS ? "value" : part_tables[id].table, &sql, e);

    if (got == 0)
        q = query_begin(book, text_str(&sql), state, e);
    while (got >= 0 && (got = query_next(q, e)) > 0)
        if (coupon_take_row(book, q, id, out, e) < 0) {
            query_end(q);
            got = -1;
        }
    text_free(&sql);
    return got;
}

static int take_state(struct book *book, const char *state, struct coupon *out, struct error *e)
{
    static const char *const columns[] = {"id",         "uuid",        "revision",
                                          "mark",       "who",         "note",
                                          "struck_why", "when_utc_ms", "when_offset_min"};
    struct text sql = {0};
    struct query *q;
    int rc;

    text_add(&sql, "SELECT (SELECT uuid FROM trial WHERE id = json_extract(:key, '$.trial_id'))"
                   " AS trial");
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
        text_addf(&sql, ", json_extract(:key, '$.%s') AS %s", columns[i], columns[i]);
    q = query_begin(book, text_str(&sql), state, e);
    text_free(&sql);
    rc = query_next(q, e) < 0 ? -1 : 0;
    if (rc == 0) {
        coupon_take_head(q, out);
        query_end(q);
    }
    for (enum part_id id = 0; rc == 0 && id <= PARTS; id++)
        rc = take_rows(book, state, id, out, e);
    return rc;
}

static struct query *begin_rows(struct book *book, const char *sql, int64_t change, int64_t coupon,
                                struct error *e)
{
    struct query *q = query_begin_number(book, sql, change, e);

    query_put_int(q, ":coupon", coupon);
    return q;
}

/* After a change that holds is before the next one that holds, or now. */
static int find_next(struct book *book, int64_t change, int64_t coupon, char **out, struct error *e)
{
    struct query *q = begin_rows(book, of_next, change, coupon, e);
    int got = query_next(q, e);

    if (got < 0)
        return -1;
    if (got == 0)
        return thing_state(book, THING_COUPON, coupon, out, e);
    *out = query_copy(q, "state");
    query_end(q);
    return 0;
}

/* What a change that was undone went back to (its base) is kept by another, or is there now. */
static int find_base(struct book *book, int64_t change, int64_t coupon, int64_t base, char **out,
                     struct error *e)
{
    struct query *q = begin_rows(book, of_others, change, coupon, e);
    int got;

    while ((got = query_next(q, e)) > 0)
        if (thing_digest(query_maybe(q, "state")) == base) {
            *out = query_copy(q, "state");
            query_end(q);
            return 0;
        }
    return got < 0 ? -1 : thing_state(book, THING_COUPON, coupon, out, e);
}

static int find_states(struct book *book, int64_t change, int64_t coupon, char **before,
                       char **after, struct error *e)
{
    struct query *q = begin_rows(book, of_change, change, coupon, e);
    bool undone;
    int64_t base;
    char *kept;
    int got = query_next(q, e);

    if (got <= 0)
        return got < 0 ? -1 : db_damaged(book, "the journal", e);
    undone = query_int(q, "undone") != 0;
    base = query_int(q, "base");
    kept = query_copy(q, "state");
    query_end(q);
    *(undone ? after : before) = kept;
    return undone ? find_base(book, change, coupon, base, before, e)
                  : find_next(book, change, coupon, after, e);
}

int journal_coupon(struct book *book, const struct change *change, int64_t coupon,
                   struct coupon *before, struct coupon *after, struct error *e)
{
    char *from = NULL, *to = NULL;
    int rc = find_states(book, change->number, coupon, &from, &to, e);

    coupon_init(before);
    coupon_init(after);
    if (rc == 0 && from != NULL)
        rc = take_state(book, from, before, e);
    if (rc == 0 && to != NULL)
        rc = take_state(book, to, after, e);
    free(from);
    free(to);
    return rc;
}
