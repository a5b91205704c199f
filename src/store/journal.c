#include "store/journal.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "store/db.h"
#include "store/query.h"
#include "store/thing_state.h"
#include "store/transaction.h"

void journal_sign(struct book *book, const char *bench, const char *who)
{
    mem_replace(&book->journal.bench, bench);
    mem_replace(&book->journal.who, who);
}

void journal_name(struct book *book, const char *what)
{
    mem_replace(&book->journal.what, what);
}

/* The row of the change that is going on. */
static int begin_change(struct book *book, enum thing thing, struct error *e)
{
    static const char *const columns[] = {"when_utc_ms", "when_offset_min", "bench", "who", "what",
                                          NULL};
    struct journal *j = &book->journal;
    struct query *q;

    if (j->change != 0)
        return 0;
    q = query_begin_row(book, "change", columns, NULL, e);
    query_put_instant(q, ":when", clock_now());
    query_put_text(q, ":bench", j->bench);
    query_put_text(q, ":who", j->who);
    query_put_text(q, ":what", j->what != NULL ? j->what : thing_name(thing));
    if (query_run(q, e) < 0)
        return -1;
    j->change = query_last_id(book);
    j->level = transaction_level(book);
    return 0;
}

static int write_touched(struct book *book, enum thing thing, int64_t first, int64_t last,
                         const char *state, struct error *e)
{
    static const char *const columns[] = {"change_id", "kind", "id", "last_id", "state", NULL};
    struct query *q = query_begin_row(book, "touched", columns, NULL, e);

    query_put_int(q, ":change_id", book->journal.change);
    query_put_text(q, ":kind", thing_table(thing));
    query_put_int(q, ":id", first);
    if (last != first)
        query_put_int(q, ":last_id", last);
    query_put_text(q, ":state", state);
    return query_run(q, e);
}

static bool in_made(const struct journal *j, enum thing thing, int64_t id)
{
    return j->made_last != 0 && j->made == thing && id >= j->made_first && id <= j->made_last;
}

static int is_touched(struct book *book, enum thing thing, int64_t id, bool *out, struct error *e)
{
    struct query *q = query_begin_number(book,
                                         "SELECT 1 FROM touched WHERE change_id = :change"
                                         " AND kind = :kind AND id <= :key"
                                         " AND coalesce(last_id, id) >= :key",
                                         id, e);
    int got;

    query_put_int(q, ":change", book->journal.change);
    query_put_text(q, ":kind", thing_table(thing));
    got = query_next(q, e);
    query_end(q);
    *out = got > 0;
    return got < 0 ? -1 : 0;
}

int journal_keep(struct book *book, enum thing thing, int64_t id, struct error *e)
{
    bool touched = in_made(&book->journal, thing, id);
    char *state = NULL;
    int rc = touched ? 0 : begin_change(book, thing, e);

    if (rc == 0 && !touched)
        rc = is_touched(book, thing, id, &touched, e);
    if (rc == 0 && !touched)
        rc = thing_state(book, thing, id, &state, e);
    if (rc == 0 && state != NULL)
        rc = write_touched(book, thing, id, id, state, e);
    free(state);
    return rc;
}

static int write_made(struct book *book, struct error *e)
{
    struct journal *j = &book->journal;
    int64_t last = j->made_last;

    j->made_last = 0;
    return last == 0 ? 0 : write_touched(book, j->made, j->made_first, last, NULL, e);
}

/* Things made one behind the other become one row, which is written when the row ends. */
int journal_made(struct book *book, enum thing thing, int64_t id, struct error *e)
{
    struct journal *j = &book->journal;

    if (begin_change(book, thing, e) < 0)
        return -1;
    if (j->made_last != 0 && j->made == thing && j->made_last == id - 1) {
        j->made_last = id;
        return 0;
    }
    if (write_made(book, e) < 0)
        return -1;
    j->made = thing;
    j->made_first = j->made_last = id;
    return 0;
}

int journal_finish(struct book *book, struct error *e)
{
    struct journal *j = &book->journal;
    int rc = write_made(book, e);

    j->change = 0;
    mem_replace(&j->what, NULL);
    return rc;
}

void journal_released(struct book *book, int level)
{
    if (book->journal.level > level)
        book->journal.level = level;
}

void journal_rolled_back(struct book *book, int level)
{
    struct journal *j = &book->journal;

    if (level == 0 || j->level > level)
        j->change = j->made_last = 0;
    if (level == 0)
        mem_replace(&j->what, NULL);
}

void journal_free(struct book *book)
{
    journal_sign(book, NULL, NULL);
    journal_name(book, NULL);
}
