/*
 * A book of the same version, made in memory by the same steps, shows what has to be in the schema.
 * A trigger somebody added would change what is stored after the save was reported as done, a view
 * in the place of a table need never end, and a renamed column is not found: such a book is not
 * worked with. SQLite keeps the text of what made a table, so texts are compared.
 */
#include "store/strangers.h"

#include <assert.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "store/db.h"
#include "store/query.h"
#include "store/schema_digest.h"
#include "store/transaction.h"

#define WHOLE "hex(type || ' ' || name || ' ' || tbl_name || ' ' || ifnull(sql, ''))"

/* A JSON object with a member for each object of the schema: its whole text, and how to name it. */
static int list_objects(struct book *book, char **out, struct error *e)
{
    struct query *q = query_begin(
        book, "SELECT json_group_object(" WHOLE ", type || ' ' || name) AS list" SCHEMA_OBJECTS,
        NULL, e);

    if (query_next(q, e) <= 0)
        return -1;
    *out = query_copy(q, "list");
    query_end(q);
    return 0;
}

static int list_made_by_steps(struct book *book, const struct schema *schema, int64_t version,
                              char **out, struct error *e)
{
    struct book fresh = {.path = book->path};
    int rc = 0;

    assert(schema->steps != NULL);

    if (sqlite3_open(":memory:", &fresh.sqlite) != SQLITE_OK)
        rc = db_failed(&fresh, SQLITE_NOMEM, e);
    for (size_t i = 0; rc == 0 && i < schema->count && (int64_t)i < version; i++)
        rc = db_run(&fresh, schema->steps[i].sql, e);
    if (rc == 0)
        rc = list_objects(&fresh, out, e);
    query_forget_all(&fresh);
    sqlite3_close(fresh.sqlite);
    return rc;
}

/* The first difference: an object of the book that is not expected, else one it lacks. */
static int refuse_difference(struct book *book, const char *expected, struct error *e)
{
    struct query *q = query_begin(
        book,
        "SELECT 'added or changed the ' || type || ' ' ||"
        " iif(name GLOB '*[^ -~]*', 'of an odd name', substr(name, 1, 64))"
        " AS what" SCHEMA_OBJECTS " AND " WHOLE " NOT IN (SELECT key FROM json_each(:key))"
        " UNION ALL SELECT 'taken away the ' || value"
        " FROM json_each(:key)"
        " WHERE key NOT IN (SELECT " WHOLE SCHEMA_OBJECTS ") LIMIT 1",
        expected, e);
    int got = query_next(q, e);

    if (got <= 0)
        return got;
    error_set(e, ERROR_INPUT,
              "%s: another program has %s; the book is left as it was: have that taken back, or go "
              "on with the last backup",
              book->path, query_text(q, "what"));
    query_end(q);
    return -1;
}

/* Doing the steps takes longer than all else in opening a book, so the digest is asked first. */
static int compare(struct book *book, const struct schema *schema, struct error *e)
{
    int64_t version = 0;
    uint64_t digest;
    char *expected = NULL;
    int code, rc = query_number(book, "PRAGMA user_version", NULL, &version, e);

    if (rc < 0)
        return -1;
    errno = 0;
    code = schema_digest(book->sqlite, &digest);
    if (code != SQLITE_OK)
        return db_failed(book, code, e);
    if (schema->steps == schema_steps && version >= 1 && version <= (int64_t)schema->count &&
        digest == schema_digests[version - 1])
        return 0;
    rc = list_made_by_steps(book, schema, version, &expected, e);
    assert(rc < 0 || expected != NULL);
    if (rc == 0)
        rc = refuse_difference(book, expected, e);
    free(expected);
    return rc;
}

/* In one state: another program may be bringing the book up to date at this moment. */
int strangers_refuse(struct book *book, const struct schema *schema, struct error *e)
{
    if (transaction_enter_reading(book, e) < 0)
        return -1;
    return transaction_leave_reading(book, compare(book, schema, e), e);
}
