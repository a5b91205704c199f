#include "store/history.h"

#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"

int history_keep(struct book *book, const char *kind, const char *id, struct error *e)
{
    char *sql = mem_format("INSERT INTO history (kind, id, revision, state, replaced_utc_ms,"
                           " replaced_offset_min)"
                           " SELECT :kind, id, revision, state, :now_utc_ms, :now_offset_min"
                           " FROM %s_state WHERE id = :id",
                           kind);
    struct query *q = db_query(book, sql, e);

    free(sql);
    if (q == NULL)
        return -1;
    query_put_text(q, ":kind", kind);
    query_put_text(q, ":id", id);
    query_put_instant(q, ":now", clock_now());
    return query_run(q, e);
}
