/*
 * Coupons are read with one query for each table, however many there are. All of them come in the
 * order of the coupons' sequence, so each row belongs to the coupon reached, or to a later one.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "store/coupon_rows.h"
#include "store/coupons.h"
#include "store/db.h"
#include "store/query.h"
#include "store/transaction.h"

/* Each takes one row into its coupon; false if the row holds what this program never writes. */
static bool take_value(struct query *q, struct coupon *c)
{
    const char *variable = query_text(q, "variable"), *kind = query_text(q, "kind");
    double low = query_real(q, "low"), high = query_real(q, "high");
    struct measure m = measure_missing();

    if (strcmp(kind, "category") == 0) {
        coupon_set_category(c, variable, query_text(q, "category"));
        return true;
    }
    if (!measure_kind_from_code(kind, &m.kind))
        return false;
    m.low = isnan(low) ? -INFINITY : low;
    m.high = isnan(high) ? INFINITY : high;
    coupon_set_number(c, variable, m, query_maybe(q, "entry"));
    return true;
}

static bool take_row(struct query *q, const struct part_row *row, void *base)
{
    void *to = (char *)base + row->offset;
    const char *column = part_column(row);

    if (row->kind == PART_NUMBER)
        *(double *)to = query_real(q, column);
    else if (part_is_text(row))
        *(char **)to = query_copy(q, column);
    else if (part_code(row, base) != NULL)
        return part_set_code(row, base, query_text(q, column));
    else
        part_set_whole(row, base, (int)query_int(q, column));
    return true;
}

static bool take_part(struct query *q, enum part_id id, struct coupon *c)
{
    void *item = part_add(c, id);
    bool good = true;

    if (id == PART_PASS)
        ((struct pass *)item)->number = (int)query_int(q, "number");
    for (const struct part_row *row = part_tables[id].rows; row->key != NULL; row++)
        good = take_row(q, row, item) && good;
    return good;
}

static void take_coupon(struct query *q, struct coupon *c)
{
    snprintf(c->id, sizeof c->id, "%s", query_text(q, "id"));
    snprintf(c->trial, sizeof c->trial, "%s", query_text(q, "trial_id"));
    c->revision = (long)query_int(q, "revision");
    c->sequence = (long)query_int(q, "sequence");
    c->mark = mem_copy(query_text(q, "mark"));
    c->when = query_instant(q, "when");
    c->who = query_copy(q, "who");
    c->note = query_copy(q, "note");
    c->struck_why = query_copy(q, "struck_why");
}

static int read_coupons(struct book *book, const char *where, const char *key,
                        struct coupon_list *out, struct error *e)
{
    char *sql = mem_format("SELECT * FROM coupon AS c WHERE %s ORDER BY sequence", where);
    struct query *q = query_begin(book, sql, key, e);
    int got;

    free(sql);
    while ((got = query_next(q, e)) > 0)
        take_coupon(q, coupon_list_add(out));
    return got;
}

/* CROSS JOIN keeps SQLite to the coupons' order, in which no row has to be sorted. */
static struct query *query_rows(struct book *book, enum part_id id, const char *where,
                                const char *key, struct error *e)
{
    const char *order = id == PARTS                ? "variable"
                        : part_tables[id].size > 0 ? "number"
                                                   : "coupon_id";
    char *sql = mem_format("SELECT c.sequence, p.* FROM coupon AS c"
                           " CROSS JOIN %s AS p ON p.coupon_id = c.id"
                           " WHERE %s ORDER BY c.sequence, p.%s",
                           id == PARTS ? "value" : part_tables[id].table, where, order);
    struct query *q = query_begin(book, sql, key, e);

    free(sql);
    return q;
}

/* The rows of a part; for PARTS the values. */
static int read_rows(struct book *book, enum part_id id, const char *where, const char *key,
                     struct coupon_list *out, struct error *e)
{
    struct query *q = query_rows(book, id, where, key, e);
    size_t at = 0;
    int got;

    while ((got = query_next(q, e)) > 0) {
        long sequence = (long)query_int(q, "sequence");

        while (at < out->count && out->items[at].sequence < sequence)
            at++;
        if (at == out->count ||
            !(id == PARTS ? take_value(q, &out->items[at]) : take_part(q, id, &out->items[at]))) {
            query_end(q);
            return db_damaged(book, id == PARTS ? "value" : part_tables[id].table, e);
        }
    }
    return got;
}

int coupon_rows_read(struct book *book, const char *where, const char *key, struct coupon_list *out,
                     struct error *e)
{
    int rc;

    if (transaction_enter_reading(book, e) < 0)
        return -1;
    rc = read_coupons(book, where, key, out, e);
    for (enum part_id id = 0; rc == 0 && out->count > 0 && id <= PARTS; id++)
        rc = read_rows(book, id, where, key, out, e);
    return transaction_leave_reading(book, rc, e);
}

int coupons_load(struct book *book, const char *trial_id, bool with_struck, struct coupon_list *out,
                 struct error *e)
{
    char *where = mem_format("%s%s", trial_id != NULL ? "c.trial_id = :key" : "TRUE",
                             with_struck ? "" : " AND c.struck_utc_ms IS NULL");
    int rc = coupon_rows_read(book, where, trial_id, out, e);

    free(where);
    if (rc < 0)
        coupon_list_free(out);
    return rc;
}

/* 1 when there is such a coupon, 0 when not. */
static int load_found(struct book *book, const char *where, const char *key, struct coupon *out,
                      struct error *e)
{
    struct coupon_list found = {0};
    int rc = coupon_rows_read(book, where, key, &found, e);

    coupon_init(out);
    if (rc == 0 && found.count == 1) {
        *out = found.items[--found.count];
        rc = 1;
    }
    coupon_list_free(&found);
    return rc;
}

static int load_one(struct book *book, const char *where, const char *key, struct coupon *out,
                    struct error *e)
{
    int got = load_found(book, where, key, out, e);

    return got == 0  ? error_set(e, ERROR_INPUT, "%s: there is no coupon %s", book->path, key)
           : got < 0 ? -1
                     : 0;
}

static int load_any(struct book *book, const char *mark, struct coupon *out, struct error *e)
{
    int64_t holders = 0;

    coupon_init(out);
    if (query_number(book,
                     "SELECT count(*) FROM coupon WHERE mark = :key AND struck_utc_ms IS NULL",
                     mark, &holders, e) < 0)
        return -1;
    if (holders > 1)
        return error_set(e, ERROR_INPUT,
                         "%s: %lld trials have a coupon %s; put the trial in front, as in TRIAL/%s",
                         book->path, (long long)holders, mark, mark);
    return load_one(
        book,
        "c.id = (SELECT id FROM coupon WHERE mark = :key"
        " ORDER BY struck_utc_ms IS NOT NULL, struck_utc_ms DESC, sequence DESC LIMIT 1)",
        mark, out, e);
}

int coupon_load(struct book *book, const char *trial_id, const char *mark, struct coupon *out,
                struct error *e)
{
    struct query *q;
    char id[ID_SIZE] = "";
    int got;

    if (trial_id == NULL)
        return load_any(book, mark, out, e);
    coupon_init(out);
    q = query_begin(
        book,
        "SELECT id FROM coupon WHERE mark = :key AND trial_id = :trial"
        " ORDER BY struck_utc_ms IS NOT NULL, struck_utc_ms DESC, sequence DESC LIMIT 1",
        mark, e);
    query_put_text(q, ":trial", trial_id);
    got = query_next(q, e);
    if (got == 0)
        return error_set(e, ERROR_INPUT, "%s: this trial has no coupon %s", book->path, mark);
    if (got < 0)
        return -1;
    snprintf(id, sizeof id, "%s", query_text(q, "id"));
    query_end(q);
    return coupon_load_id(book, id, out, e);
}

int coupon_load_id(struct book *book, const char *id, struct coupon *out, struct error *e)
{
    return load_one(book, "c.id = :key", id, out, e);
}

int coupon_load_before(struct book *book, const struct coupon *c, struct coupon *out,
                       struct error *e)
{
    if (c->id[0] == '\0')
        return load_found(book,
                          "c.id = (SELECT id FROM coupon WHERE trial_id = :key"
                          " AND struck_utc_ms IS NULL ORDER BY sequence DESC LIMIT 1)",
                          c->trial, out, e);
    return load_found(book,
                      "c.id = (SELECT b.id FROM coupon AS b JOIN coupon AS a"
                      " ON b.trial_id = a.trial_id AND b.sequence < a.sequence WHERE a.id = :key"
                      " AND b.struck_utc_ms IS NULL ORDER BY b.sequence DESC LIMIT 1)",
                      c->id, out, e);
}
