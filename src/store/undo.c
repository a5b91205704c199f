/* Going back and forth in the journal, and listing it. */
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/thing_state.h"
#include "store/transaction.h"

static struct change take_change(struct query *q)
{
    return (struct change){
        .number = query_int(q, "id"),
        .when = query_instant(q, "when"),
        .bench = query_copy(q, "bench"),
        .who = query_copy(q, "who"),
        .what = mem_copy(query_text(q, "what")),
        .undone = query_maybe(q, "undone_utc_ms") != NULL,
        .undone_when = query_instant(q, "undone"),
        .undone_by = query_copy(q, "undone_by"),
    };
}

void change_free(struct change *change)
{
    free(change->bench);
    free(change->who);
    free(change->what);
    free(change->things);
    free(change->undone_by);
    memset(change, 0, sizeof *change);
}

void change_list_free(struct change_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        change_free(&list->items[i]);
    free(list->items);
    memset(list, 0, sizeof *list);
}

int journal_list(struct book *book, int64_t coupon, size_t most, struct change_list *out,
                 struct error *e)
{
    struct query *q = query_begin_number(
        book,
        "SELECT * FROM (SELECT * FROM change WHERE :key = 0 OR id IN"
        " (SELECT change_id FROM touched WHERE kind = 'coupon' AND id <= :key"
        " AND coalesce(last_id, id) >= :key) ORDER BY id DESC LIMIT :most) ORDER BY id",
        coupon, e);
    int got;

    query_put_int(q, ":most", (int64_t)most);
    while ((got = query_next(q, e)) > 0) {
        out->items = array_reserve(out->items, &out->capacity, out->count + 1, sizeof *out->items);
        out->items[out->count++] = take_change(q);
    }
    for (size_t i = 0; got == 0 && i < out->count; i++)
        got = change_take_things(book, &out->items[i], e);
    return got;
}

/* What undoing and redoing differ in. */
struct direction {
    const char *verb, *none;
    bool undone; /* what the change must be now */
    const char *last, *clash;
};

#define OVERLAPS                                                                                   \
    " JOIN touched AS mine ON mine.change_id = :key AND mine.kind = t.kind"                        \
    " AND t.id <= coalesce(mine.last_id, mine.id) AND coalesce(t.last_id, t.id) >= mine.id"

static const struct direction backwards = {
    .verb = "undone",
    .none = "there is nothing to undo that was done at this bench",
    .undone = false,
    .last = "SELECT * FROM change WHERE bench IS :bench AND undone_utc_ms IS NULL"
            " ORDER BY id DESC LIMIT 1",
    .clash = "SELECT c.* FROM change AS c JOIN touched AS t ON t.change_id = c.id" OVERLAPS
             " WHERE c.id > :key AND c.undone_utc_ms IS NULL ORDER BY c.id DESC LIMIT 1",
};

static const struct direction forwards = {
    .verb = "redone",
    .none = "there is nothing to redo that was undone at this bench",
    .undone = true,
    .last = "SELECT * FROM change WHERE undone_by IS :bench AND undone_utc_ms IS NOT NULL"
            " ORDER BY undone_utc_ms DESC, id LIMIT 1",
    .clash = "SELECT c.* FROM change AS c JOIN touched AS t ON t.change_id = c.id" OVERLAPS
             " WHERE c.id <> :key AND (c.id > :key) = (c.undone_utc_ms IS NULL)"
             " ORDER BY c.undone_utc_ms IS NULL DESC, c.id DESC LIMIT 1",
};

static int find_change(struct book *book, const struct direction *d, int64_t number,
                       struct change *out, struct error *e)
{
    struct query *q;
    int got;

    if (number == 0) {
        q = query_begin(book, d->last, NULL, e);
        query_put_text(q, ":bench", book->journal.bench);
    } else {
        q = query_begin_number(book, "SELECT * FROM change WHERE id = :key", number, e);
    }
    got = query_next(q, e);
    if (got < 0)
        return -1;
    if (got == 0 && number == 0)
        return error_set(e, ERROR_INPUT, "%s: %s", book->path, d->none);
    if (got == 0)
        return error_set(e, ERROR_INPUT, "%s: there is no change number %lld", book->path,
                         (long long)number);
    *out = take_change(q);
    query_end(q);
    if (change_take_things(book, out, e) < 0)
        return -1;
    if (out->undone == d->undone)
        return 0;
    return error_set(e, ERROR_INPUT, "%s: change %lld (%s of %s) is %s", book->path,
                     (long long)out->number, out->what, out->things,
                     out->undone ? "undone already" : "not undone");
}

struct other_state {
    enum thing thing;
    int64_t id;
    char *state;
    int64_t base;
};

/* 1, or 0 when none is left. */
static int next_touched(struct book *book, const struct change *c, struct other_state *at,
                        struct error *e)
{
    struct query *q = query_begin_number(book,
                                         "SELECT * FROM touched WHERE change_id = :key"
                                         " AND (kind, id) > (:kind, :id) ORDER BY kind, id LIMIT 1",
                                         c->number, e);
    int got;

    query_put_text(q, ":kind", at->thing == THINGS ? "" : thing_table(at->thing));
    query_put_int(q, ":id", at->id);
    free(at->state);
    at->state = NULL;
    got = query_next(q, e);
    if (got <= 0)
        return got;
    at->thing = thing_from_table(query_text(q, "kind"));
    at->id = query_int(q, "id");
    at->state = query_copy(q, "state");
    at->base = query_int(q, "base");
    query_end(q);
    return at->thing < THINGS ? 1 : db_damaged(book, "the journal names an unknown table", e);
}

/* Whether all that a change touched is as it was when the change was undone. */
static int is_as_left(struct book *book, const struct change *c, bool *out, struct error *e)
{
    struct other_state at = {.thing = THINGS};
    int got = 0, rc = 0;

    *out = true;
    while (rc == 0 && *out && (got = next_touched(book, c, &at, e)) > 0) {
        char *now = NULL;

        rc = thing_state(book, at.thing, at.id, &now, e);
        *out = thing_digest(now) == at.base;
        free(now);
    }
    free(at.state);
    return rc < 0 ? rc : got < 0 ? -1 : 0;
}

/* Another change that is in the way: 1, and the caller frees it; or 0. */
static int find_clash(struct book *book, const struct direction *d, const struct change *c,
                      struct change *out, struct error *e)
{
    struct query *q = query_begin_number(book, d->clash, c->number, e);
    int got = query_next(q, e);

    if (got <= 0)
        return got;
    *out = take_change(q);
    query_end(q);
    if (change_take_things(book, out, e) == 0)
        return 1;
    change_free(out);
    return -1;
}

static int refuse_for(struct book *book, const struct direction *d, const struct change *c,
                      const struct change *other, struct error *e)
{
    if (other->what == NULL)
        return error_set(
            e, ERROR_INPUT,
            "%s: change %lld (%s of %s) cannot be %s: what it touched is not as it was "
            "left",
            book->path, (long long)c->number, c->what, c->things, d->verb);
    return error_set(e, ERROR_INPUT,
                     "%s: change %lld (%s of %s) cannot be %s: change %lld (%s of %s) is about the "
                     "same thing and %s; %s that one first",
                     book->path, (long long)c->number, c->what, c->things, d->verb,
                     (long long)other->number, other->what, other->things,
                     other->undone ? "was undone later" : "came later",
                     other->undone ? "redo" : "undo");
}

/* What holds and came later is never gone over. What was undone since is in the way of redoing
 * only where it has left something else than there was. */
static int refuse_clash(struct book *book, const struct direction *d, const struct change *c,
                        struct error *e)
{
    struct change other = {0};
    bool free_to_go = !d->undone;
    int rc = find_clash(book, d, c, &other, e);

    if (rc > 0 && !other.undone)
        free_to_go = false;
    else if (rc >= 0 && d->undone)
        rc = is_as_left(book, c, &free_to_go, e);
    if (rc >= 0)
        rc = free_to_go ? 0 : refuse_for(book, d, c, &other, e);
    change_free(&other);
    return rc;
}

/* Things made one behind the other become a row each, which can hold their states. */
static int part_ranges(struct book *book, const struct change *c, struct error *e)
{
    static const char *const each[] = {
        "INSERT INTO touched (change_id, kind, id) SELECT t.change_id, t.kind, k.value"
        " FROM touched AS t JOIN (WITH RECURSIVE n (value) AS (SELECT min(id) FROM touched"
        " WHERE change_id = :key AND last_id IS NOT NULL UNION ALL SELECT value + 1 FROM n"
        " WHERE value < (SELECT max(last_id) FROM touched WHERE change_id = :key))"
        " SELECT value FROM n) AS k ON k.value > t.id AND k.value <= t.last_id"
        " WHERE t.change_id = :key",
        "UPDATE touched SET last_id = NULL WHERE change_id = :key AND last_id IS NOT NULL",
    };
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < sizeof each / sizeof *each; i++)
        rc = query_run(query_begin_number(book, each[i], c->number, e), e);
    return rc;
}

static int keep_state(struct book *book, const struct change *c, const struct other_state *at,
                      const char *state, struct error *e)
{
    struct query *q = query_begin_number(book,
                                         "UPDATE touched SET state = :state WHERE"
                                         " change_id = :change AND kind = :kind AND id = :key",
                                         at->id, e);

    query_put_text(q, ":state", state);
    query_put_int(q, ":change", c->number);
    query_put_text(q, ":kind", thing_table(at->thing));
    return query_run(q, e);
}

static int keep_base(struct book *book, const struct change *c, const struct other_state *at,
                     struct error *e)
{
    char *now = NULL;
    int rc = thing_state(book, at->thing, at->id, &now, e);

    if (rc == 0) {
        struct query *q = query_begin_number(book,
                                             "UPDATE touched SET base = :base WHERE"
                                             " change_id = :change AND kind = :kind AND id = :key",
                                             at->id, e);

        query_put_int(q, ":base", thing_digest(now));
        query_put_int(q, ":change", c->number);
        query_put_text(q, ":kind", thing_table(at->thing));
        rc = query_run(q, e);
    }
    free(now);
    return rc;
}

/* The state in the book for the one that is not. It is in the journal before the thing goes. */
static int exchange(struct book *book, const struct change *c, const struct other_state *at,
                    struct error *e)
{
    char *now = NULL;
    int rc = thing_state(book, at->thing, at->id, &now, e);

    if (rc == 0)
        rc = keep_state(book, c, at, now, e);
    if (rc == 0)
        rc = thing_put(book, at->thing, at->id, at->state, e);
    if (rc == 0)
        rc = keep_base(book, c, at, e);
    free(now);
    return rc;
}

static int exchange_all(struct book *book, const struct change *c, struct error *e)
{
    struct other_state at = {.thing = THINGS};
    int got = 0, rc = db_run(book, "PRAGMA defer_foreign_keys = ON", e);

    if (rc == 0)
        rc = part_ranges(book, c, e);
    while (rc == 0 && (got = next_touched(book, c, &at, e)) > 0)
        rc = exchange(book, c, &at, e);
    free(at.state);
    return rc < 0 ? rc : got;
}

/* Its time is later than that of all others, so that what was undone last is redone first. */
static int mark_undone(struct book *book, const struct change *c, bool undone, struct error *e)
{
    struct query *q;

    if (!undone)
        return query_run(query_begin_number(book,
                                            "UPDATE change SET undone_utc_ms = NULL,"
                                            " undone_offset_min = NULL, undone_by = NULL"
                                            " WHERE id = :key",
                                            c->number, e),
                         e);
    q = query_begin_number(book,
                           "UPDATE change SET undone_utc_ms = max(:now_utc_ms, 1 + (SELECT"
                           " coalesce(max(undone_utc_ms), 0) FROM change)),"
                           " undone_offset_min = :now_offset_min, undone_by = :bench"
                           " WHERE id = :key",
                           c->number, e);
    query_put_instant(q, ":now", clock_now());
    query_put_text(q, ":bench", book->journal.bench);
    return query_run(q, e);
}

static int go(struct book *book, const struct direction *d, int64_t number, struct change *out,
              struct error *e)
{
    if (find_change(book, d, number, out, e) < 0 || refuse_clash(book, d, out, e) < 0 ||
        undo_refuse(book, out, d->verb, e) < 0)
        return -1;
    if (exchange_all(book, out, e) < 0 || mark_undone(book, out, !d->undone, e) < 0)
        return error_where(e, "change %lld (%s of %s) cannot be %s", (long long)out->number,
                           out->what, out->things, d->verb);
    return 0;
}

static int go_in_transaction(struct book *book, const struct direction *d, int64_t number,
                             struct change *out, struct error *e)
{
    int rc;

    memset(out, 0, sizeof *out);
    if (transaction_enter(book, e) < 0)
        return -1;
    rc = transaction_leave(book, go(book, d, number, out, e), e);
    if (rc < 0)
        change_free(out);
    return rc;
}

int journal_undo(struct book *book, int64_t number, struct change *out, struct error *e)
{
    return go_in_transaction(book, &backwards, number, out, e);
}

int journal_redo(struct book *book, int64_t number, struct change *out, struct error *e)
{
    return go_in_transaction(book, &forwards, number, out, e);
}
