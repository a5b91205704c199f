#include "store/schema_digest.h"

/* FNV-1a, 64 bits, the closing NUL included, so that texts do not run into each other. */
static uint64_t add(uint64_t digest, const unsigned char *text)
{
    do
        digest = (digest ^ (text == NULL ? 0 : *text)) * UINT64_C(1099511628211);
    while (text != NULL && *text++ != '\0');
    return digest;
}

int schema_digest(sqlite3 *db, uint64_t *out)
{
    static const char sql[] =
        "SELECT type, name, tbl_name, sql" SCHEMA_OBJECTS " ORDER BY type, name";
    sqlite3_stmt *stmt = NULL;
    int code = sqlite3_prepare_v2(db, sql, -1, &stmt, NULL);

    *out = UINT64_C(14695981039346656037);
    while (code == SQLITE_OK && (code = sqlite3_step(stmt)) == SQLITE_ROW) {
        for (int i = 0; i < sqlite3_column_count(stmt); i++)
            *out = add(*out, sqlite3_column_text(stmt, i));
        code = SQLITE_OK;
    }
    sqlite3_finalize(stmt);
    return code == SQLITE_DONE ? SQLITE_OK : code;
}
