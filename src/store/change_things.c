/* What a change was about, in words: the marks of coupons, the names of trials and so on, from the
 * book, and of what is not in it now from the state that was kept. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/thing_state.h"

enum { MOST_NAMED = 4 };

/* How many things of a kind a change touched, and the number of the first. */
static int count_touched(struct book *book, int64_t change, enum thing thing, int64_t *first,
                         int64_t *count, struct error *e)
{
    struct query *q = query_begin_number(book,
                                         "SELECT min(id) AS first,"
                                         " total(coalesce(last_id, id) - id + 1) AS count"
                                         " FROM touched WHERE change_id = :key AND kind = :kind",
                                         change, e);

    query_put_text(q, ":kind", thing_table(thing));
    if (query_next(q, e) < 0)
        return -1;
    *first = query_int(q, "first");
    *count = query_int(q, "count");
    query_end(q);
    return 0;
}

static struct query *begin_names(struct book *book, int64_t change, enum thing thing,
                                 struct error *e)
{
    const char *table = thing_table(thing), *label = thing_label(thing);
    char *sql = mem_format("SELECT coalesce(k.%s, json_extract(t.state, '$.%s')) AS name"
                           " FROM touched AS t LEFT JOIN %s AS k"
                           " ON k.id BETWEEN t.id AND coalesce(t.last_id, t.id)"
                           " WHERE t.change_id = :key AND t.kind = '%s'"
                           " ORDER BY t.id, k.id LIMIT :most",
                           label, label, table, table);
    struct query *q = query_begin_number(book, sql, change, e);

    free(sql);
    query_put_int(q, ":most", MOST_NAMED);
    return q;
}

/* "coupon 07"; "coupons 07, 08, 09, 10 and 96 more". */
static int add_things(struct book *book, int64_t change, enum thing thing, int64_t count,
                      struct text *out, struct error *e)
{
    struct query *q = begin_names(book, change, thing, e);
    int64_t named = 0;
    int got;

    text_addf(out, "%s%s%s", out->length > 0 ? ", " : "", thing_name(thing), count > 1 ? "s" : "");
    while ((got = query_next(q, e)) > 0)
        text_addf(out, "%s%s", named++ > 0 ? ", " : " ", query_text(q, "name"));
    if (count > named)
        text_addf(out, " and %lld more", (long long)(count - named));
    return got;
}

/* In a book of several trials the mark alone does not say which coupon it is. Coupons that are
 * changed together are of one trial, unless the change made their trials too. */
static int add_trial(struct book *book, int64_t coupon, struct text *out, struct error *e)
{
    struct query *q = query_begin_number(
        book,
        "SELECT name FROM trial WHERE (SELECT count(*) FROM trial) > 1 AND id = coalesce("
        "(SELECT trial_id FROM coupon WHERE id = :key), (SELECT json_extract(state, '$.trial_id')"
        " FROM touched WHERE kind = 'coupon' AND id = :key AND state IS NOT NULL LIMIT 1))",
        coupon, e);
    int got = query_next(q, e);

    if (got <= 0)
        return got;
    text_addf(out, " of trial %s", query_text(q, "name"));
    query_end(q);
    return 0;
}

int change_take_things(struct book *book, struct change *change, struct error *e)
{
    static const char schema_1[] = "change of ";
    struct text all = {0};
    int64_t coupon = 0;
    int rc = 0;

    for (enum thing thing = 0; rc == 0 && thing < THINGS; thing++) {
        int64_t first, count = 0;

        rc = count_touched(book, change->number, thing, &first, &count, e);
        if (rc == 0 && count > 0)
            rc = add_things(book, change->number, thing, count, &all, e);
        if (thing == THING_COUPON && count > 0)
            coupon = first;
        if (thing == THING_COUPON && count == 1)
            change->coupon = first;
        if (rc == 0 && thing == THING_TRIAL && count == 0 && coupon != 0)
            rc = add_trial(book, coupon, &all, e);
    }
    if (all.length == 0)
        text_add(&all, "nothing");
    change->things = text_steal(&all);
    /* what schema 1 had kept says the kind of thing as well */
    if (strncmp(change->what, schema_1, strlen(schema_1)) == 0)
        change->what[strlen("change")] = '\0';
    return rc;
}

int journal_find_coupon(struct book *book, int64_t trial, const char *mark, int64_t *out,
                        struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT id FROM touched AS t WHERE kind = 'coupon'"
                                  " AND json_extract(state, '$.mark') = :key COLLATE NOCASE"
                                  " AND (:trial = 0 OR json_extract(state, '$.trial_id') = :trial)"
                                  " AND NOT EXISTS (SELECT 1 FROM coupon WHERE mark = :key"
                                  " AND (:trial = 0 OR trial_id = :trial))"
                                  " ORDER BY id DESC LIMIT 1",
                                  mark, e);
    int got;

    *out = 0;
    query_put_int(q, ":trial", trial);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    *out = query_int(q, "id");
    query_end(q);
    return 0;
}
