#include "store/schema_digest.h"

#include "base/hash.h"

/* The closing NUL is included, so that texts do not run into each other. */
static uint64_t add(uint64_t digest, const unsigned char *text)
{
    do
        digest = hash_add(digest, text == NULL ? 0 : *text);
    while (text != NULL && *text++ != '\0');
    return digest;
}

int schema_digest(sqlite3 *db, uint64_t *out)
{
    static const char sql[] =
        "SELECT type, name, tbl_name, sql" SCHEMA_OBJECTS " ORDER BY type, name";
    sqlite3_stmt *stmt = NULL;
    int code = sqlite3_prepare_v2(db, sql, -1, &stmt, NULL);

    *out = HASH_START;
    while (code == SQLITE_OK && (code = sqlite3_step(stmt)) == SQLITE_ROW) {
        for (int i = 0; i < sqlite3_column_count(stmt); i++)
            *out = add(*out, sqlite3_column_text(stmt, i));
        code = SQLITE_OK;
    }
    sqlite3_finalize(stmt);
    return code == SQLITE_DONE ? SQLITE_OK : code;
}
