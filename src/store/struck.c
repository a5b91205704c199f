#include "store/struck.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

int struck_needs_reason(const char *what, const char *why, struct error *e)
{
    if (why == NULL || why[strspn(why, " \t\n")] == '\0')
        return error_set(e, ERROR_INPUT, "striking a %s out needs a reason", what);
    return 0;
}

struct query *struck_begin(struct book *book, const char *table, const char *where, int64_t key,
                           const char *why, struct instant when, struct error *e)
{
    char *sql = mem_format("UPDATE %s SET revision = revision + 1, struck_why = :why,"
                           " struck_utc_ms = iif(:why IS NULL, NULL, :when_utc_ms),"
                           " struck_offset_min = iif(:why IS NULL, NULL, :when_offset_min)"
                           " WHERE %s",
                           table, where);
    struct query *q = query_begin_number(book, sql, key, e);

    free(sql);
    query_put_text(q, ":why", why);
    query_put_instant(q, ":when", when);
    return q;
}
