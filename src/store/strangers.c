/*
 * A book of the same version, made in memory by the same steps, shows what has to be in the schema.
 * A trigger somebody added would change what is stored after the save was reported as done, a view
 * in the place of a table need never end, and a renamed column is not found: such a book is not
 * worked with. SQLite keeps the text of what made a table, so texts are compared.
 */
#include <stdlib.h>

#include "store/db.h"
#include "store/migrate.h"

/* Indexes without a text of their own follow from their table; ANALYZE makes tables, too. */
#define WHOLE "hex(type || ' ' || name || ' ' || tbl_name || ' ' || ifnull(sql, ''))"
#define OBJECTS                                                                                    \
    " FROM sqlite_schema WHERE NOT (type = 'index' AND sql IS NULL)"                               \
    " AND NOT (type = 'table' AND name GLOB 'sqlite_stat[1-4]')"

static int list_objects(struct book *book, char **out, struct error *e)
{
    struct query *q = db_query(book, "SELECT json_group_array(" WHOLE ") AS list" OBJECTS, e);

    if (q == NULL || query_next(q, e) <= 0)
        return -1;
    *out = query_copy(q, "list");
    query_end(q);
    return 0;
}

/* An object of `in` that is not in `known`, a list as above: "trigger a_trigger"; NULL: none. */
static int find_other(struct book *in, const char *known, char **out, struct error *e)
{
    struct query *q = db_query(in,
                               "SELECT type || ' ' || iif(name GLOB '*[^ -~]*', 'of an odd name',"
                               " substr(name, 1, 64)) AS object" OBJECTS " AND " WHOLE
                               " NOT IN (SELECT value FROM json_each(:known))"
                               " ORDER BY rowid LIMIT 1",
                               e);
    int got;

    if (q == NULL)
        return -1;
    query_put_text(q, ":known", known);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    *out = query_copy(q, "object");
    query_end(q);
    return 0;
}

static int compare(struct book *book, struct book *right, struct error *e)
{
    char *is = NULL, *should = NULL, *added = NULL, *missing = NULL;
    int rc = list_objects(book, &is, e);

    if (rc == 0)
        rc = list_objects(right, &should, e);
    if (rc == 0)
        rc = find_other(book, should, &added, e);
    if (rc == 0)
        rc = find_other(right, is, &missing, e);
    if (rc == 0 && (added != NULL || missing != NULL))
        rc = error_set(e, ERROR_INPUT,
                       "%s: another program has %s the %s; the book is left as it was: have that "
                       "taken back, or go on with the last backup",
                       book->path, added != NULL ? "added or changed" : "taken away",
                       added != NULL ? added : missing);
    free(missing);
    free(added);
    free(should);
    free(is);
    return rc;
}

static int compare_with_steps(struct book *book, const struct schema *schema, struct error *e)
{
    struct book right = {.path = book->path};
    int64_t version = 0;
    int rc = db_number(book, "PRAGMA user_version", &version, e);

    if (rc == 0 && sqlite3_open(":memory:", &right.sqlite) != SQLITE_OK)
        rc = db_failed(&right, SQLITE_NOMEM, e);
    for (size_t i = 0; rc == 0 && i < schema->count && (int64_t)i < version; i++)
        rc = db_run(&right, schema->steps[i].sql, e);
    if (rc == 0)
        rc = compare(book, &right, e);
    db_forget_queries(&right);
    sqlite3_close(right.sqlite);
    return rc;
}

/* In one state: another program may be bringing the book up to date at this moment. */
int schema_refuse_strangers(struct book *book, const struct schema *schema, struct error *e)
{
    if (db_enter_reading(book, e) < 0)
        return -1;
    return db_leave_reading(book, compare_with_steps(book, schema, e), e);
}
