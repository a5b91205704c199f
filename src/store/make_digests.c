/*
 * Run while the program is built: writes the digest of the schema after each step as C. Doing the
 * steps whenever a book is opened would take ten times as long as all the rest of that.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "store/schema.h"
#include "store/schema_digest.h"

int main(void)
{
    sqlite3 *db = NULL;
    int code = sqlite3_open(":memory:", &db);

    puts("/* Made from the schema folder by make_digests.c. */");
    puts("#include \"store/schema_digest.h\"\n\nconst uint64_t schema_digests[] = {");
    for (size_t i = 0; i < schema_step_count && code == SQLITE_OK; i++) {
        uint64_t digest = 0;

        code = sqlite3_exec(db, schema_steps[i].sql, NULL, NULL, NULL);
        if (code == SQLITE_OK)
            code = schema_digest(db, &digest);
        printf("    UINT64_C(%" PRIu64 "),\n", digest);
    }
    puts("};");
    if (code != SQLITE_OK)
        fprintf(stderr, "the schema's steps: %s\n", sqlite3_errmsg(db));
    sqlite3_close(db);
    return code == SQLITE_OK && fflush(stdout) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
