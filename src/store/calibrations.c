#include "store/calibrations.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/transaction.h"

static struct calibration *add_calibration(struct calibration_list *list)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
    memset(&list->items[list->count], 0, sizeof *list->items);
    return &list->items[list->count++];
}

static void take_calibration(struct query *q, struct calibration *c)
{
    snprintf(c->id, sizeof c->id, "%s", query_text(q, "uuid"));
    c->machine = mem_copy(query_text(q, "machine"));
    c->dial = query_real(q, "dial");
    c->feed_mm_per_min = query_real(q, "feed_mm_per_min");
    c->when = query_instant(q, "when");
    c->note = query_copy(q, "note");
}

int calibrations_load(struct book *book, const char *machine, struct calibration_list *out,
                      struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT * FROM calibration WHERE struck_utc_ms IS NULL"
                                  " AND (:key IS NULL OR machine = :key)"
                                  " ORDER BY machine, dial, when_utc_ms, id",
                                  machine, e);
    int got;

    while ((got = query_next(q, e)) > 0)
        take_calibration(q, add_calibration(out));
    if (got < 0)
        calibration_list_free(out);
    return got;
}

static int insert_calibration(struct book *book, const struct calibration *c, const char *id,
                              struct instant when, struct error *e)
{
    static const char *const columns[] = {
        "uuid",        "machine",         "dial", "feed_mm_per_min",
        "when_utc_ms", "when_offset_min", "note", NULL};
    struct query *q = query_begin_row(book, "calibration", columns, NULL, e);

    query_put_text(q, ":uuid", id);
    query_put_text(q, ":machine", c->machine);
    query_put_real(q, ":dial", c->dial);
    query_put_real(q, ":feed_mm_per_min", c->feed_mm_per_min);
    query_put_instant(q, ":when", when);
    query_put_text(q, ":note", c->note);
    if (query_run(q, e) < 0)
        return -1;
    return journal_made(book, THING_CALIBRATION, query_last_id(book), e);
}

int calibration_add(struct book *book, struct calibration *c, struct error *e)
{
    struct instant when = clock_or_now(c->when);
    char id[ID_SIZE];

    id_new(id);
    if (transaction_enter(book, e) < 0 ||
        transaction_leave(book, insert_calibration(book, c, id, when, e), e) < 0)
        return -1;
    memcpy(c->id, id, sizeof c->id);
    c->when = when;
    return 0;
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
