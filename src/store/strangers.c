/*
 * A book of the same version, made in memory by the same steps, shows what has to be in the schema.
 * A trigger somebody added would change what is stored after the save was reported as done, a view
 * in the place of a table need never end, and a renamed column is not found: such a book is not
 * worked with. SQLite keeps the text of what made a table, so texts are compared.
 */
#include "store/strangers.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "store/db.h"
#include "store/query.h"
#include "store/transaction.h"

/* Indexes without a text of their own follow from their table; ANALYZE makes tables, too. */
#define WHOLE "hex(type || ' ' || name || ' ' || tbl_name || ' ' || ifnull(sql, ''))"
#define OBJECTS                                                                                    \
    " FROM sqlite_schema WHERE NOT (type = 'index' AND sql IS NULL)"                               \
    " AND NOT (type = 'table' AND name GLOB 'sqlite_stat[1-4]')"

/* A JSON object with a member for each object of the schema: its whole text, and how to name it. */
static int list_objects(struct book *book, char **out, struct error *e)
{
    struct query *q = query_begin(
        book, "SELECT json_group_object(" WHOLE ", type || ' ' || name) AS list" OBJECTS, NULL, e);

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

/* Making the fresh schema takes longer than all else in opening a book, so that of the last version
 * asked for is kept as long as the program runs. */
static int list_expected(struct book *book, const struct schema *schema, const char **out,
                         struct error *e)
{
    static const struct schema_step *steps;
    static int64_t kept_version;
    static char *kept;
    int64_t version = 0;
    int rc = query_number(book, "PRAGMA user_version", NULL, &version, e);

    if (rc == 0 && (steps != schema->steps || kept_version != version)) {
        free(kept);
        kept = NULL;
        steps = NULL;
        rc = list_made_by_steps(book, schema, version, &kept, e);
        kept_version = version;
        if (rc == 0 && schema->steps == schema_steps) /* others may not live as long */
            steps = schema->steps;
    }
    *out = kept;
    return rc;
}

/* The first difference: an object of the book that is not expected, else one it lacks. */
static int refuse_difference(struct book *book, const char *expected, struct error *e)
{
    struct query *q =
        query_begin(book,
                    "SELECT 'added or changed the ' || type || ' ' ||"
                    " iif(name GLOB '*[^ -~]*', 'of an odd name', substr(name, 1, 64))"
                    " AS what" OBJECTS " AND " WHOLE " NOT IN (SELECT key FROM json_each(:key))"
                    " UNION ALL SELECT 'taken away the ' || value"
                    " FROM json_each(:key)"
                    " WHERE key NOT IN (SELECT " WHOLE OBJECTS ") LIMIT 1",
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

static int compare(struct book *book, const struct schema *schema, struct error *e)
{
    const char *expected;
    char *found = NULL;
    int rc = list_expected(book, schema, &expected, e);

    if (rc == 0)
        rc = list_objects(book, &found, e);
    assert(rc < 0 || (found != NULL && expected != NULL));
    if (rc == 0 && strcmp(found, expected) != 0) /* perhaps only in another order */
        rc = refuse_difference(book, expected, e);
    free(found);
    return rc;
}

/* In one state: another program may be bringing the book up to date at this moment. */
int strangers_refuse(struct book *book, const struct schema *schema, struct error *e)
{
    if (transaction_enter_reading(book, e) < 0)
        return -1;
    return transaction_leave_reading(book, compare(book, schema, e), e);
}
