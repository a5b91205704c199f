/*
 * Coupons are read with one query for each table, however many there are. All of them come in the
 * order of the coupons' sequence, so each row belongs to the coupon reached, to a later one, or to
 * one that is not wanted.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/coupon_rows.h"
#include "store/coupons.h"
#include "store/db.h"
#include "store/query.h"
#include "store/transaction.h"
#include "store/trials.h"
#include "store/variable_ids.h"

void coupon_plain_entry(char out[ENTRY_SIZE], double number, const char *unit)
{
    size_t length;

    text_from_number(out, ENTRY_SIZE, number);
    if (unit == NULL)
        return;
    length = strlen(out);
    if (strcmp(unit, "°") != 0)
        out[length++] = ' ';
    text_put(out + length, ENTRY_SIZE - length, unit);
}

/* Of what is only known to lie on one side the other has no limit. */
static bool take_measure(const char *kind, double low, double high, struct measure *m)
{
    *m = (struct measure){.low = isnan(low) ? -INFINITY : low,
                          .high = isnan(high) ? INFINITY : high};
    return measure_kind_from_code(kind, &m->kind);
}

/* Each takes one row into its coupon; false if the row holds what this program never writes. */
static bool take_value(struct query *q, struct coupon *c, const struct variable_id *variable)
{
    double low = query_real(q, "low"), high = query_real(q, "high");
    const char *words = query_maybe(q, "words"), *kind = query_maybe(q, "kind");
    struct measure m = measure_exact(low);
    char entry[ENTRY_SIZE];

    if (words != NULL && words[0] == '\0') {
        coupon_plain_entry(entry, low, variable->unit);
        words = entry;
    }
    if (kind == NULL && isnan(low))
        coupon_set_category(c, variable->key, words);
    else if (kind == NULL || take_measure(kind, low, high, &m))
        coupon_set_number(c, variable->key, m, words);
    else
        return false;
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

void coupon_take_head(struct query *q, struct coupon *c)
{
    snprintf(c->id, sizeof c->id, "%s", query_text(q, "uuid"));
    snprintf(c->trial, sizeof c->trial, "%s", query_text(q, "trial"));
    c->revision = (long)query_int(q, "revision");
    c->sequence = (long)query_int(q, "id");
    c->mark = mem_copy(query_text(q, "mark"));
    c->when = query_instant(q, "when");
    c->who = query_copy(q, "who");
    c->note = query_copy(q, "note");
    c->struck_why = query_copy(q, "struck_why");
}

struct query *coupon_where_query(struct book *book, char *sql, const struct coupon_where *where,
                                 struct error *e)
{
    struct query *q = query_begin_number(book, sql, where->key, e);

    query_put_int(q, ":first", where->first);
    query_put_int(q, ":last", where->last);
    free(sql);
    return q;
}

static int read_coupons(struct book *book, const struct coupon_where *where,
                        struct coupon_list *out, struct error *e)
{
    char *sql = mem_format("SELECT c.*, t.uuid AS trial FROM coupon AS c"
                           " LEFT JOIN trial AS t ON t.id = c.trial_id WHERE %s ORDER BY c.id",
                           where->sql);
    struct query *q = coupon_where_query(book, sql, where, e);
    int got;

    while ((got = query_next(q, e)) > 0)
        coupon_take_head(q, coupon_list_add(out));
    return got;
}

/*
 * Where most of the coupons between the first and the last are wanted, as of one coupon or of a
 * book, the rows are taken as they lie. Else each coupon's are looked for: CROSS JOIN keeps SQLite
 * to the coupons' order, in which no row has to be sorted.
 */
static struct query *query_rows(struct book *book, enum part_id id,
                                const struct coupon_where *where, const struct coupon_list *list,
                                struct error *e)
{
    static const char plain[] = "p.coupon_id, p.variable_id, p.low, p.high, p.kind,"
                                " iif(p.low IS NULL AND p.kind IS NULL, p.words, NULL) AS words";
    struct coupon_where near = {"", 0, list->items[0].sequence,
                                list->items[list->count - 1].sequence, where->figures};
    bool dense = (near.last - near.first) / 4 < (int64_t)list->count;
    const char *columns = id == PARTS && where->figures ? plain : "p.*";
    const char *table = id == PARTS ? "value" : part_tables[id].table;
    const char *order = id == PARTS                ? "variable_id"
                        : part_tables[id].size > 0 ? "number"
                                                   : "coupon_id";

    if (dense)
        return coupon_where_query(
            book,
            mem_format("SELECT %s FROM %s AS p WHERE :key = 0 AND p.coupon_id BETWEEN :first"
                       " AND :last ORDER BY p.coupon_id, p.%s",
                       columns, table, order),
            &near, e);
    return coupon_where_query(
        book,
        mem_format("SELECT %s FROM coupon AS c CROSS JOIN %s AS p ON p.coupon_id = c.id"
                   " WHERE %s ORDER BY c.id, p.%s",
                   columns, table, where->sql, order),
        where, e);
}

static int refuse_row(struct book *book, enum part_id id, struct error *e)
{
    return db_damaged(book, id == PARTS ? "value" : part_tables[id].table, e);
}

int coupon_take_row(struct book *book, struct query *q, enum part_id id, struct coupon *c,
                    struct error *e)
{
    const struct variable_id *variable;

    if (id != PARTS)
        return take_part(q, id, c) ? 0 : refuse_row(book, id, e);
    variable = variable_with_id(book, query_int(q, "variable_id"), e);
    if (variable == NULL)
        return -1;
    return take_value(q, c, variable) ? 0 : refuse_row(book, id, e);
}

/* The rows of a part; for PARTS the values. */
static int read_rows(struct book *book, enum part_id id, const struct coupon_where *where,
                     struct coupon_list *out, struct error *e)
{
    struct query *q = query_rows(book, id, where, out, e);
    size_t at = 0;
    int got, rc = 0;

    while ((got = query_next(q, e)) > 0) {
        long number = (long)query_int(q, "coupon_id");

        while (at < out->count && out->items[at].sequence < number)
            at++;
        if (at < out->count && out->items[at].sequence == number)
            rc = coupon_take_row(book, q, id, &out->items[at], e);
        if (rc < 0) {
            query_end(q);
            return rc;
        }
    }
    return got;
}

int coupon_rows_read(struct book *book, const struct coupon_where *where, struct coupon_list *out,
                     struct error *e)
{
    int rc;

    if (transaction_enter_reading(book, e) < 0)
        return -1;
    rc = read_coupons(book, where, out, e);
    for (enum part_id id = 0; rc == 0 && out->count > 0 && id <= PARTS; id++)
        if (id != PART_PHOTO || !where->figures)
            rc = read_rows(book, id, where, out, e);
    return transaction_leave_reading(book, rc, e);
}

/* 1 when there is such a coupon, 0 when not. */
static int load_found(struct book *book, int64_t number, struct coupon *out, struct error *e)
{
    struct coupon_list found = {0};
    struct coupon_where where = {"c.id = :key AND c.id BETWEEN :first AND :last", number, number,
                                 number, false};
    int rc = number == 0 ? 0 : coupon_rows_read(book, &where, &found, e);

    coupon_init(out);
    if (rc == 0 && found.count == 1) {
        *out = found.items[--found.count];
        rc = 1;
    }
    coupon_list_free(&found);
    return rc;
}

/* The coupon in use with this mark, else the one struck out last, with ":trial" in the trial. */
#define BY_MARK(IN_TRIAL)                                                                          \
    "SELECT id, (SELECT count(*) FROM coupon WHERE mark = :key AND struck_utc_ms IS NULL"          \
    " AND " IN_TRIAL ") AS holders FROM coupon WHERE mark = :key AND struck_utc_ms IS NULL"        \
    " AND " IN_TRIAL " UNION ALL SELECT id, 0 FROM (SELECT id FROM coupon WHERE mark = :key"       \
    " AND struck_utc_ms IS NOT NULL AND " IN_TRIAL                                                 \
    " ORDER BY struck_utc_ms DESC, id DESC LIMIT 1)"                                               \
    " LIMIT 1"

static int refuse_several(const struct book *book, const char *mark, long long holders,
                          struct error *e)
{
    return error_set(e, ERROR_INPUT,
                     "%s: %lld trials have a coupon %s; put the trial in front, as in TRIAL/%s",
                     book->path, holders, mark, mark);
}

int coupon_load(struct book *book, const char *trial_id, const char *mark, struct coupon *out,
                struct error *e)
{
    int64_t trial = 0, holders = 0, number = 0;
    struct query *q;
    int got;

    coupon_init(out);
    if (trial_id != NULL && trial_number(book, trial_id, &trial, e) < 0)
        return -1;
    q = query_begin(book,
                    trial_id == NULL ? BY_MARK("TRUE") : BY_MARK("coalesce(trial_id, 0) = :trial"),
                    mark, e);
    if (trial_id != NULL)
        query_put_int(q, ":trial", trial);
    got = query_next(q, e);
    if (got > 0) {
        number = query_int(q, "id");
        holders = query_int(q, "holders");
        query_end(q);
    }
    if (got > 0 && holders > 1)
        return refuse_several(book, mark, (long long)holders, e);
    if (got > 0)
        got = load_found(book, number, out, e);
    if (got != 0)
        return got < 0 ? -1 : 0;
    return error_set(e, ERROR_INPUT,
                     trial_id == NULL ? "%s: there is no coupon %s"
                                      : "%s: this trial has no coupon %s",
                     book->path, mark);
}

int coupon_load_number(struct book *book, long number, struct coupon *out, struct error *e)
{
    int got = load_found(book, number, out, e);

    if (got != 0)
        return got < 0 ? -1 : 0;
    return error_set(e, ERROR_INPUT, "%s: this coupon is not in the book", book->path);
}

int coupon_load_before(struct book *book, const struct coupon *c, struct coupon *out,
                       struct error *e)
{
    int64_t number = 0;
    struct query *q =
        query_begin_number(book,
                           "SELECT max(b.id) AS number FROM coupon AS b"
                           " WHERE b.struck_utc_ms IS NULL AND b.trial_id ="
                           " iif(:key = 0, (SELECT id FROM trial WHERE uuid = :trial),"
                           " (SELECT trial_id FROM coupon WHERE id = :key))"
                           " AND b.id < :below",
                           c->sequence, e);

    coupon_init(out);
    query_put_text(q, ":trial", c->trial);
    query_put_int(q, ":below", c->sequence == 0 ? INT64_MAX : c->sequence);
    if (query_next(q, e) < 0)
        return -1;
    number = query_int(q, "number");
    query_end(q);
    return load_found(book, number, out, e);
}
