/*
 * The statements are made from the columns the book's tables have, so a column that a later schema
 * adds is kept and put back without a word here:
 *
 *     {"id":…, "mark":…, …, "value":[{"variable_id":…, "low":…}, …], "pass":[…], …}
 *
 * They are not views in the schema, because SQLite takes no JSON functions from a schema that is
 * not trusted. In a state of an older schema a column may be missing: it gets its default.
 */
#include "store/thing_state.h"

#include <stdlib.h>
#include <string.h>

#include "base/hash.h"
#include "base/mem.h"
#include "base/text.h"
#include "store/db.h"
#include "store/query.h"

static const struct kept {
    const char *table, *name;
    const char *label;             /* the column that tells one of them from the others */
    const char *parts[MOST_PARTS]; /* tables with rows that belong to it, NULL behind the last */
    const char *part_key;
    bool revised; /* has a revision */
} kept[THINGS] = {
    [THING_COUPON] = {"coupon",
                      "coupon",
                      "mark",
                      {"value", "pass", "bend", "face", "flaw", "photo", "lesson"},
                      "coupon_id",
                      true},
    [THING_TRIAL] = {"trial",
                     "trial",
                     "name",
                     {"trial_variable", "trial_level", "trial_block"},
                     "trial_id",
                     true},
    [THING_OWN_VARIABLE] = {"own_variable", "variable", "label", {NULL}, NULL, true},
    [THING_SETTING] = {"setting", "setting", "key", {NULL}, NULL, true},
    [THING_CALIBRATION] = {"calibration", "measured wire feed", "machine", {NULL}, NULL, false},
};

const char *thing_table(enum thing thing)
{
    return kept[thing].table;
}

const char *thing_name(enum thing thing)
{
    return kept[thing].name;
}

const char *thing_label(enum thing thing)
{
    return kept[thing].label;
}

enum thing thing_from_table(const char *table)
{
    enum thing thing = 0;

    while (thing < THINGS && strcmp(kept[thing].table, table) != 0)
        thing++;
    return thing;
}

/* For each column of the table what `format` makes of it, with its name at every %w or %Q, joined
 * by commas. */
static int add_columns(struct book *book, struct text *sql, const char *table, const char *format,
                       struct error *e)
{
    struct query *q =
        query_begin(book,
                    "SELECT group_concat(printf(:format, name, name, name, name), ', ')"
                    " AS columns FROM pragma_table_info(:key)",
                    table, e);

    query_put_text(q, ":format", format);
    if (query_next(q, e) <= 0)
        return -1;
    text_add(sql, query_text(q, "columns"));
    query_end(q);
    return 0;
}

/* "'mark', k."mark", …". JSON of a number has only 15 digits unless it is written out. */
static int add_members(struct book *book, struct text *sql, const char *table, struct error *e)
{
    return add_columns(book, sql, table,
                       "%Q, json(iif(typeof(k.\"%w\") = 'real', printf('%%!.17g', k.\"%w\"),"
                       " json_quote(k.\"%w\")))",
                       e);
}

static int make_get(struct book *book, const struct kept *k, struct text *sql, struct error *e)
{
    text_add(sql, "SELECT json_object(");
    if (add_members(book, sql, k->table, e) < 0)
        return -1;
    for (size_t i = 0; k->parts[i] != NULL; i++) {
        text_addf(sql, ", '%s', json((SELECT json_group_array(json_object(", k->parts[i]);
        if (add_members(book, sql, k->parts[i], e) < 0)
            return -1;
        text_addf(sql, ")) FROM %s AS k WHERE k.%s = :key))", k->parts[i], k->part_key);
    }
    text_addf(sql, ") AS state FROM %s AS k WHERE k.id = :key", k->table);
    return 0;
}

static int make_put(struct book *book, const struct kept *k, struct text *sql, struct error *e)
{
    text_addf(sql, "INSERT INTO %s (", k->table);
    if (add_columns(book, sql, k->table, "\"%w\"", e) < 0)
        return -1;
    text_add(sql, ") SELECT ");
    if (add_columns(book, sql, k->table, "json_extract(:state, '$.%w')", e) < 0)
        return -1;
    text_add(sql, " WHERE TRUE ON CONFLICT (id) DO UPDATE SET ");
    return add_columns(book, sql, k->table, "\"%w\" = excluded.\"%w\"", e);
}

/* The rows of a part; which thing they belong to is said by :id, not by the state. */
static int make_put_part(struct book *book, const struct kept *k, const char *part,
                         struct text *sql, struct error *e)
{
    struct query *q;

    text_addf(sql, "INSERT INTO %s (", part);
    if (add_columns(book, sql, part, "\"%w\"", e) < 0)
        return -1;
    q = query_begin(book,
                    "SELECT group_concat(CASE WHEN name = :part_key THEN ':id'"
                    " ELSE printf('coalesce(json_extract(j.value, ''$.%w''), %s)', name,"
                    " ifnull(dflt_value, 'NULL')) END, ', ') AS columns"
                    " FROM pragma_table_info(:key)",
                    part, e);
    query_put_text(q, ":part_key", k->part_key);
    if (query_next(q, e) <= 0)
        return -1;
    text_addf(sql, ") SELECT %s FROM json_each(:state, '$.%s') AS j", query_text(q, "columns"),
              part);
    query_end(q);
    return 0;
}

/* Made when first needed, and kept in the book. */
static int make_all(struct book *book, enum thing thing, struct error *e)
{
    const struct kept *k = &kept[thing];
    struct text get = {0}, put = {0};
    struct thing_sql *sql = &book->thing_sql[thing];
    int rc;

    if (sql->get != NULL)
        return 0;
    rc = make_get(book, k, &get, e);
    if (rc == 0)
        rc = make_put(book, k, &put, e);
    for (size_t i = 0; rc == 0 && k->parts[i] != NULL; i++) {
        struct text part = {0};

        rc = make_put_part(book, k, k->parts[i], &part, e);
        sql->put_part[i] = text_steal(&part);
    }
    sql->get = text_steal(&get);
    sql->put = text_steal(&put);
    if (rc < 0)
        thing_forget_sql(book);
    return rc;
}

void thing_forget_sql(struct book *book)
{
    for (size_t i = 0; i < THINGS; i++) {
        struct thing_sql *sql = &book->thing_sql[i];

        free(sql->get);
        free(sql->put);
        for (size_t j = 0; j < MOST_PARTS; j++)
            free(sql->put_part[j]);
        memset(sql, 0, sizeof *sql);
    }
}

int thing_state(struct book *book, enum thing thing, int64_t id, char **out, struct error *e)
{
    struct query *q;
    int got;

    *out = NULL;
    if (make_all(book, thing, e) < 0)
        return -1;
    q = query_begin_number(book, book->thing_sql[thing].get, id, e);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    *out = query_copy(q, "state");
    query_end(q);
    return 0;
}

int thing_rows_of_state(struct book *book, const char *table, struct text *sql, struct error *e)
{
    text_add(sql, "SELECT ");
    if (add_columns(book, sql, table, "json_extract(j.value, '$.%w') AS \"%w\"", e) < 0)
        return -1;
    text_addf(sql, " FROM json_each(:key, '$.%s') AS j", table);
    return 0;
}

int64_t thing_digest(const char *state)
{
    const char *revision = state == NULL ? NULL : strstr(state, "\"revision\":");
    uint64_t digest = HASH_START;

    for (const char *s = state; s != NULL && *s != '\0'; s++) {
        if (s == revision)
            s += strcspn(s, ",}");
        digest = hash_add(digest, (unsigned char)*s);
    }
    return state == NULL ? 0 : (int64_t)digest;
}

int thing_is_in_state(struct book *book, enum thing thing, int64_t id, const char *state,
                      struct error *e)
{
    char *now = NULL;
    int rc = thing_state(book, thing, id, &now, e);

    if (rc == 0)
        rc = thing_digest(now) == thing_digest(state);
    free(now);
    return rc;
}

static int take_parts(struct book *book, const struct kept *k, int64_t id, struct error *e)
{
    int rc = 0;

    for (size_t i = 0; rc == 0 && k->parts[i] != NULL; i++)
        rc = query_delete(book, k->parts[i], k->part_key, id, e);
    return rc;
}

static int put_parts(struct book *book, enum thing thing, int64_t id, const char *state,
                     struct error *e)
{
    int rc = 0;

    for (size_t i = 0; rc == 0 && kept[thing].parts[i] != NULL; i++) {
        struct query *q = query_begin(book, book->thing_sql[thing].put_part[i], NULL, e);

        query_put_int(q, ":id", id);
        query_put_text(q, ":state", state);
        rc = query_run(q, e);
    }
    return rc;
}

/* Above the one it has, and above that of the state, so that no copy somebody has loaded passes for
 * what is stored now. */
static int raise_revision(struct book *book, const struct kept *k, int64_t id, int64_t before,
                          struct error *e)
{
    char *sql =
        mem_format("UPDATE %s SET revision = 1 + max(revision, :before) WHERE id = :key", k->table);
    struct query *q = query_begin_number(book, sql, id, e);

    query_put_int(q, ":before", before);
    free(sql);
    return query_run(q, e);
}

static int revision_of(struct book *book, const struct kept *k, int64_t id, int64_t *out,
                       struct error *e)
{
    char *sql = mem_format("SELECT revision FROM %s WHERE id = %lld", k->table, (long long)id);
    int rc = query_number(book, sql, NULL, out, e);

    free(sql);
    return rc;
}

int thing_put(struct book *book, enum thing thing, int64_t id, const char *state, struct error *e)
{
    const struct kept *k = &kept[thing];
    int64_t before = 0;
    struct query *q;

    if (make_all(book, thing, e) < 0 || (k->revised && revision_of(book, k, id, &before, e) < 0) ||
        take_parts(book, k, id, e) < 0)
        return -1;
    if (state == NULL)
        return query_delete(book, k->table, "id", id, e);
    q = query_begin(book, book->thing_sql[thing].put, NULL, e);
    query_put_text(q, ":state", state);
    if (query_run(q, e) < 0 || put_parts(book, thing, id, state, e) < 0)
        return -1;
    return k->revised ? raise_revision(book, k, id, before, e) : 0;
}
