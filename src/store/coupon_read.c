/*
 * Coupons are read with one query for each table, however many there are. All of them come in the
 * order of the coupons' sequence, so each row belongs to the coupon reached, or to a later one.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/coupon_rows.h"
#include "store/coupons.h"

/* Each takes one row into its coupon; false when the row says what no program of ours wrote. */
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

static bool take_pass(struct query *q, struct coupon *c)
{
    struct pass *p = coupon_add_pass(c);

    p->number = (int)query_int(q, "number");
    p->side = (int)query_int(q, "side");
    p->arc_s = query_real(q, "arc_s");
    p->length_mm = query_real(q, "length_mm");
    p->volts = query_real(q, "volts");
    p->amps = query_real(q, "amps");
    p->feed_mm_per_min = query_real(q, "feed_mm_per_min");
    p->start_c = query_real(q, "start_c");
    p->pause_s = query_real(q, "pause_s");
    return true;
}

static bool take_bend(struct query *q, struct coupon *c)
{
    struct bend *b = &c->bend;

    b->before_deg = query_real(q, "before_deg");
    b->after_deg = query_real(q, "after_deg");
    b->before_gap_mm = query_real(q, "before_gap_mm");
    b->after_gap_mm = query_real(q, "after_gap_mm");
    b->leg_mm = query_real(q, "leg_mm");
    b->former_mm = query_real(q, "former_mm");
    b->inside_radius_mm = query_real(q, "inside_radius_mm");
    b->first_crack_deg = query_real(q, "first_crack_deg");
    b->load_n = query_real(q, "load_n");
    b->lever_mm = query_real(q, "lever_mm");
    return bend_end_from_code(query_text(q, "ended"), &b->end) &&
           bend_direction_from_code(query_text(q, "direction"), &b->direction);
}

static bool take_face(struct query *q, struct coupon *c)
{
    c->bead_mm = query_real(q, "bead_mm");
    c->face_read = query_int(q, "complete") != 0;
    return true;
}

static bool take_flaw(struct query *q, struct coupon *c)
{
    struct flaw *f = coupon_add_flaw(c);

    f->from_mm = query_real(q, "from_mm");
    f->to_mm = query_real(q, "to_mm");
    f->iso6520 = (int)query_int(q, "iso6520");
    f->note = query_copy(q, "note");
    return true;
}

static bool take_photo(struct query *q, struct coupon *c)
{
    struct photo *p = coupon_add_photo(c);

    p->path = mem_copy(query_text(q, "path"));
    p->sha256 = query_copy(q, "sha256");
    p->note = query_copy(q, "note");
    return true;
}

static const struct part {
    const char *table, *columns, *order;
    bool (*take)(struct query *q, struct coupon *c);
} parts[] = {
    {"value", "p.variable, p.kind, p.low, p.high, p.category, p.entry", "variable", take_value},
    {"pass",
     "p.number, p.side, p.arc_s, p.length_mm, p.volts, p.amps, p.feed_mm_per_min, p.start_c, "
     "p.pause_s",
     "number", take_pass},
    {"bend",
     "p.ended, p.direction, p.before_deg, p.after_deg, p.before_gap_mm, p.after_gap_mm, p.leg_mm, "
     "p.former_mm, p.inside_radius_mm, p.first_crack_deg, p.load_n, p.lever_mm",
     "coupon_id", take_bend},
    {"face", "p.bead_mm, p.complete", "coupon_id", take_face},
    {"flaw", "p.from_mm, p.to_mm, p.iso6520, p.note", "number", take_flaw},
    {"photo", "p.path, p.sha256, p.note", "number", take_photo},
};

enum { PARTS = sizeof parts / sizeof parts[0] };

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

static struct query *query_keyed(struct book *book, char *sql, const char *key, struct error *e)
{
    struct query *q = db_query(book, sql, e);

    free(sql);
    if (q != NULL && key != NULL)
        query_put_text(q, ":key", key);
    return q;
}

static int read_coupons(struct book *book, const char *where, const char *key,
                        struct coupon_list *out, struct error *e)
{
    char *sql = mem_format("SELECT c.id, c.revision, c.sequence, c.trial_id, c.mark, c.when_utc_ms,"
                           " c.when_offset_min, c.who, c.note, c.struck_why"
                           " FROM coupon AS c WHERE %s ORDER BY c.sequence",
                           where);
    struct query *q = query_keyed(book, sql, key, e);
    int got = -1;

    while (q != NULL && (got = query_next(q, e)) > 0)
        take_coupon(q, coupon_list_add(out));
    return got;
}

/* CROSS JOIN keeps SQLite to the coupons' order, in which no row has to be sorted. */
static int read_part(struct book *book, const struct part *part, const char *where, const char *key,
                     struct coupon_list *out, struct error *e)
{
    char *sql = mem_format("SELECT c.sequence, %s FROM coupon AS c"
                           " CROSS JOIN %s AS p ON p.coupon_id = c.id"
                           " WHERE %s ORDER BY c.sequence, p.%s",
                           part->columns, part->table, where, part->order);
    struct query *q = query_keyed(book, sql, key, e);
    size_t at = 0;
    int got = -1;

    while (q != NULL && (got = query_next(q, e)) > 0) {
        long sequence = (long)query_int(q, "sequence");

        while (at < out->count && out->items[at].sequence < sequence)
            at++;
        if (at == out->count || !part->take(q, &out->items[at])) {
            query_end(q);
            return db_damaged(book, part->table, e);
        }
    }
    return got;
}

int coupon_rows_read(struct book *book, const char *where, const char *key, struct coupon_list *out,
                     struct error *e)
{
    int result;

    if (db_enter_reading(book, e) < 0)
        return -1;
    result = read_coupons(book, where, key, out, e);
    for (size_t i = 0; result == 0 && out->count > 0 && i < PARTS; i++)
        result = read_part(book, &parts[i], where, key, out, e);
    return db_leave_reading(book, result, e);
}

int coupons_load(struct book *book, const char *trial_id, bool with_struck, struct coupon_list *out,
                 struct error *e)
{
    char *where = mem_format("%s%s", trial_id != NULL ? "c.trial_id = :key" : "TRUE",
                             with_struck ? "" : " AND c.struck_utc_ms IS NULL");
    int result = coupon_rows_read(book, where, trial_id, out, e);

    free(where);
    if (result < 0)
        coupon_list_free(out);
    return result;
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

/* How many trials have a coupon in use with this mark. */
static int count_holders(struct book *book, const char *mark, int64_t *out, struct error *e)
{
    struct query *q = db_query(book,
                               "SELECT count(*) AS holders FROM coupon WHERE mark = :mark"
                               " AND struck_utc_ms IS NULL",
                               e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":mark", mark);
    if (query_next(q, e) < 0)
        return -1;
    *out = query_int(q, "holders");
    query_end(q);
    return 0;
}

static int load_any(struct book *book, const char *mark, struct coupon *out, struct error *e)
{
    int64_t holders = 0;

    coupon_init(out);
    if (count_holders(book, mark, &holders, e) < 0)
        return -1;
    if (holders > 1)
        return error_set(e, ERROR_INPUT,
                         "%s: %lld trials have a coupon %s; put the trial in front, as in TRIAL/%s",
                         book->path, (long long)holders, mark, mark);
    return load_one(book,
                    "c.id = (SELECT id FROM coupon WHERE mark = :key"
                    " ORDER BY struck_utc_ms IS NOT NULL, struck_utc_ms DESC LIMIT 1)",
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
    q = db_query(book,
                 "SELECT id FROM coupon WHERE mark = :mark AND trial_id = :trial"
                 " ORDER BY struck_utc_ms IS NOT NULL, struck_utc_ms DESC LIMIT 1",
                 e);
    if (q == NULL)
        return -1;
    query_put_text(q, ":mark", mark);
    query_put_text(q, ":trial", trial_id);
    got = query_next(q, e);
    if (got > 0)
        snprintf(id, sizeof id, "%s", query_text(q, "id"));
    query_end(q);
    if (got > 0)
        return coupon_load_id(book, id, out, e);
    return got < 0 ? -1
                   : error_set(e, ERROR_INPUT, "%s: this trial has no coupon %s", book->path, mark);
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

int coupon_past(struct book *book, const char *id,
                void (*tell)(void *ctx, long revision, struct instant replaced, const char *json),
                void *ctx, struct error *e)
{
    struct query *q = db_query(book,
                               "SELECT revision, replaced_utc_ms, replaced_offset_min, state"
                               " FROM history WHERE kind = 'coupon' AND id = :id ORDER BY revision",
                               e);
    int got;

    if (q == NULL)
        return -1;
    query_put_text(q, ":id", id);
    while ((got = query_next(q, e)) > 0)
        tell(ctx, (long)query_int(q, "revision"), query_instant(q, "replaced"),
             query_text(q, "state"));
    return got;
}
