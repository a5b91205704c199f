#include "store/calibrations.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "store/db.h"

static struct calibration *add_calibration(struct calibration_list *list)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
    memset(&list->items[list->count], 0, sizeof *list->items);
    return &list->items[list->count++];
}

static void take_calibration(struct query *q, struct calibration *c)
{
    snprintf(c->id, sizeof c->id, "%s", query_text(q, "id"));
    c->machine = mem_copy(query_text(q, "machine"));
    c->dial = query_real(q, "dial");
    c->feed_mm_per_min = query_real(q, "feed_mm_per_min");
    c->when = query_instant(q, "when");
    c->note = query_copy(q, "note");
}

int calibrations_load(struct book *book, const char *machine, struct calibration_list *out,
                      struct error *e)
{
    struct query *q = db_query(book,
                               "SELECT id, machine, dial, feed_mm_per_min, when_utc_ms,"
                               " when_offset_min, note FROM calibration"
                               " WHERE (:machine IS NULL OR machine = :machine)"
                               " AND struck_utc_ms IS NULL"
                               " ORDER BY machine, dial, when_utc_ms, id",
                               e);
    int got;

    if (q == NULL)
        return -1;
    query_put_text(q, ":machine", machine);
    while ((got = query_next(q, e)) > 0)
        take_calibration(q, add_calibration(out));
    if (got < 0)
        calibration_list_free(out);
    return got;
}

static int insert_calibration(struct book *book, const struct calibration *c, const char *id,
                              struct instant when, struct error *e)
{
    struct query *q = db_query(book,
                               "INSERT INTO calibration (id, machine, dial, feed_mm_per_min,"
                               " when_utc_ms, when_offset_min, note)"
                               " VALUES (:id, :machine, :dial, :feed_mm_per_min,"
                               " :when_utc_ms, :when_offset_min, :note)",
                               e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":id", id);
    query_put_text(q, ":machine", c->machine);
    query_put_real(q, ":dial", c->dial);
    query_put_real(q, ":feed_mm_per_min", c->feed_mm_per_min);
    query_put_instant(q, ":when", when);
    query_put_text(q, ":note", c->note);
    return query_run(q, e);
}

int calibration_add(struct book *book, struct calibration *c, struct error *e)
{
    struct instant when = c->when;
    char id[ID_SIZE];
    int result;

    if (when.utc_ms == 0 && when.offset_minutes == 0)
        when = clock_now();
    id_new(id);
    if (db_enter(book, e) < 0)
        return -1;
    result = db_leave(book, insert_calibration(book, c, id, when, e), e);
    if (result == 0) {
        memcpy(c->id, id, sizeof c->id);
        c->when = when;
    }
    return result;
}

static int strike_stored(struct book *book, const char *id, const char *why, struct error *e)
{
    struct query *q = db_query(book,
                               "UPDATE calibration SET struck_why = :why,"
                               " struck_utc_ms = :now_utc_ms, struck_offset_min = :now_offset_min"
                               " WHERE id = :id AND struck_utc_ms IS NULL",
                               e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":id", id);
    query_put_text(q, ":why", why);
    query_put_instant(q, ":now", clock_now());
    if (query_run(q, e) < 0)
        return -1;
    if (sqlite3_changes(book->sqlite) == 0)
        return error_set(e, ERROR_INPUT,
                         "%s: this calibration is not in the book, or struck out already",
                         book->path);
    return 0;
}

int calibration_strike(struct book *book, const char *id, const char *why, struct error *e)
{
    if (why == NULL || why[strspn(why, " \t\n")] == '\0')
        return error_set(e, ERROR_INPUT, "striking a calibration out needs a reason");
    if (db_enter(book, e) < 0)
        return -1;
    return db_leave(book, strike_stored(book, id, why, e), e);
}

void calibration_free(struct calibration *c)
{
    free(c->machine);
    free(c->note);
    memset(c, 0, sizeof *c);
}

void calibration_list_free(struct calibration_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        calibration_free(&list->items[i]);
    free(list->items);
    memset(list, 0, sizeof *list);
}
