/*
 * The statement that keeps a state is made from the columns the book's tables have, so a column
 * that a later schema adds is kept without a word here:
 *
 *     {"id":…, "mark":…, …, "value":[{"variable":…, "low":…}, …], "pass":[…], …}
 *
 * It is not a view in the schema, because SQLite takes no JSON functions from a schema that is not
 * trusted.
 */
#include "store/history.h"

#include <stdlib.h>

#include "base/clock.h"
#include "base/text.h"
#include "store/db.h"
#include "store/query.h"

static const struct kept {
    const char *table, *key; /* "kind" in the history is the name of the table */
    const char *parts[7];    /* tables with rows that belong to it, NULL behind the last */
    const char *part_key;
} kept[] = {
    [HISTORY_COUPON] = {"coupon",
                        "id",
                        {"value", "pass", "bend", "face", "flaw", "photo"},
                        "coupon_id"},
    [HISTORY_TRIAL] = {"trial", "id", {"trial_variable", "trial_level"}, "trial_id"},
    [HISTORY_VARIABLE] = {"variable", "key", {NULL}, NULL},
    [HISTORY_SETTING] = {"setting", "key", {NULL}, NULL},
};

/* "'mark', k."mark", …". JSON of a number has only 15 digits unless it is written out. */
static int add_columns(struct book *book, struct text *sql, const char *table, struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT group_concat(printf(CASE type WHEN 'REAL' THEN"
                                  " '%Q, json(iif(k.\"%w\" IS NULL, ''null'',"
                                  " printf(''%%!.17g'', k.\"%w\")))'"
                                  " ELSE '%Q, k.\"%w\"' END, name, name, name), ', ') AS columns"
                                  " FROM pragma_table_info(:key)",
                                  table, e);

    if (query_next(q, e) <= 0)
        return -1;
    text_add(sql, query_text(q, "columns"));
    query_end(q);
    return 0;
}

static int add_part(struct book *book, struct text *sql, const struct kept *kind, const char *part,
                    struct error *e)
{
    text_addf(sql, ", '%s', json((SELECT json_group_array(json_object(", part);
    if (add_columns(book, sql, part, e) < 0)
        return -1;
    text_addf(sql, ")) FROM %s AS k WHERE k.%s = :key))", part, kind->part_key);
    return 0;
}

static int make_sql(struct book *book, const struct kept *kind, struct text *sql, struct error *e)
{
    text_addf(sql,
              "INSERT INTO history (kind, id, revision, replaced_utc_ms, replaced_offset_min,"
              " state) SELECT '%s', k.%s, k.revision, :now_utc_ms, :now_offset_min, json_object(",
              kind->table, kind->key);
    if (add_columns(book, sql, kind->table, e) < 0)
        return -1;
    for (size_t i = 0; kind->parts[i] != NULL; i++)
        if (add_part(book, sql, kind, kind->parts[i], e) < 0)
            return -1;
    text_addf(sql, ") FROM %s AS k WHERE k.%s = :key", kind->table, kind->key);
    return 0;
}

int history_keep(struct book *book, enum history_kind kind, const char *id, struct error *e)
{
    struct text sql = {0};
    struct query *q;

    if (book->history_sql[kind] == NULL) {
        if (make_sql(book, &kept[kind], &sql, e) < 0) {
            text_free(&sql);
            return -1;
        }
        book->history_sql[kind] = text_steal(&sql);
    }
    q = query_begin(book, book->history_sql[kind], id, e);
    query_put_instant(q, ":now", clock_now());
    return query_run(q, e);
}
