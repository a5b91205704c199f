/* Writing the rows of a coupon, table by table. */
#include "store/coupon_rows.h"

#include <math.h>
#include <stdlib.h>

#include "base/mem.h"

static int put_value(struct query *q, const struct value *v, struct error *e)
{
    bool category = v->kind == VARIABLE_CATEGORY;

    query_put_text(q, ":variable", v->variable);
    query_put_text(q, ":kind", category ? "category" : measure_kind_code(v->measure.kind));
    query_put_real(q, ":low", category || isinf(v->measure.low) ? NAN : v->measure.low);
    query_put_real(q, ":high", category || isinf(v->measure.high) ? NAN : v->measure.high);
    query_put_text(q, ":category", category ? v->text : NULL);
    query_put_text(q, ":entry", category ? NULL : v->text);
    return query_run(q, e);
}

static int write_values(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    for (size_t i = 0; i < c->value_count; i++) {
        const struct value *v = &c->values[i];
        struct query *q;

        if (v->kind == VARIABLE_NUMBER && !measure_known(v->measure))
            continue;
        q = db_query(book,
                     "INSERT INTO value (coupon_id, variable, kind, low, high, category, entry)"
                     " VALUES (:coupon_id, :variable, :kind, :low, :high, :category, :entry)",
                     e);
        if (q == NULL)
            return -1;
        query_put_text(q, ":coupon_id", id);
        if (put_value(q, v, e) < 0)
            return error_where(e, "%s", v->variable);
    }
    return 0;
}

static int write_pass(struct book *book, const struct pass *p, const char *id, struct error *e)
{
    struct query *q =
        db_query(book,
                 "INSERT INTO pass (coupon_id, number, side, arc_s, length_mm, volts, amps,"
                 " feed_mm_per_min, start_c, pause_s)"
                 " VALUES (:coupon_id, :number, nullif(:side, 0), :arc_s, :length_mm, :volts,"
                 " :amps, :feed_mm_per_min, :start_c, :pause_s)",
                 e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":coupon_id", id);
    query_put_int(q, ":number", p->number);
    query_put_int(q, ":side", p->side);
    query_put_real(q, ":arc_s", p->arc_s);
    query_put_real(q, ":length_mm", p->length_mm);
    query_put_real(q, ":volts", p->volts);
    query_put_real(q, ":amps", p->amps);
    query_put_real(q, ":feed_mm_per_min", p->feed_mm_per_min);
    query_put_real(q, ":start_c", p->start_c);
    query_put_real(q, ":pause_s", p->pause_s);
    return query_run(q, e);
}

static int write_passes(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    for (size_t i = 0; i < c->pass_count; i++) {
        if (c->passes[i].number != (int)i + 1)
            return error_set(
                e, ERROR_INPUT,
                "the passes must be numbered 1, 2, 3 …: number %d stands in place %zu; "
                "nothing of this was stored",
                c->passes[i].number, i + 1);
        if (write_pass(book, &c->passes[i], id, e) < 0)
            return error_where(e, "pass %zu", i + 1);
    }
    return 0;
}

static bool bend_known(const struct bend *b)
{
    const double numbers[] = {b->before_deg, b->after_deg, b->before_gap_mm,    b->after_gap_mm,
                              b->leg_mm,     b->former_mm, b->inside_radius_mm, b->first_crack_deg,
                              b->load_n,     b->lever_mm};

    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        if (!isnan(numbers[i]))
            return true;
    return b->end != BEND_NOT_DONE || b->direction != BEND_DIRECTION_UNKNOWN;
}

static int write_bend(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    const struct bend *b = &c->bend;
    struct query *q;

    if (!bend_known(b))
        return 0;
    q = db_query(book,
                 "INSERT INTO bend (coupon_id, ended, direction, before_deg, after_deg,"
                 " before_gap_mm, after_gap_mm, leg_mm, former_mm, inside_radius_mm,"
                 " first_crack_deg, load_n, lever_mm)"
                 " VALUES (:coupon_id, :ended, :direction, :before_deg, :after_deg,"
                 " :before_gap_mm, :after_gap_mm, :leg_mm, :former_mm, :inside_radius_mm,"
                 " :first_crack_deg, :load_n, :lever_mm)",
                 e);
    if (q == NULL)
        return -1;
    query_put_text(q, ":coupon_id", id);
    query_put_text(q, ":ended", bend_end_code(b->end));
    query_put_text(q, ":direction", bend_direction_code(b->direction));
    query_put_real(q, ":before_deg", b->before_deg);
    query_put_real(q, ":after_deg", b->after_deg);
    query_put_real(q, ":before_gap_mm", b->before_gap_mm);
    query_put_real(q, ":after_gap_mm", b->after_gap_mm);
    query_put_real(q, ":leg_mm", b->leg_mm);
    query_put_real(q, ":former_mm", b->former_mm);
    query_put_real(q, ":inside_radius_mm", b->inside_radius_mm);
    query_put_real(q, ":first_crack_deg", b->first_crack_deg);
    query_put_real(q, ":load_n", b->load_n);
    query_put_real(q, ":lever_mm", b->lever_mm);
    return query_run(q, e);
}

static int write_flaw(struct book *book, const struct flaw *f, size_t number, const char *id,
                      struct error *e)
{
    struct query *q = db_query(book,
                               "INSERT INTO flaw (coupon_id, number, from_mm, to_mm, iso6520, note)"
                               " VALUES (:coupon_id, :number, :from_mm, :to_mm, :iso6520, :note)",
                               e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":coupon_id", id);
    query_put_int(q, ":number", (int64_t)number);
    query_put_real(q, ":from_mm", f->from_mm);
    query_put_real(q, ":to_mm", f->to_mm);
    query_put_int(q, ":iso6520", f->iso6520);
    query_put_text(q, ":note", f->note);
    return query_run(q, e);
}

static int write_face(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    struct query *q;

    if (isnan(c->bead_mm) && !c->face_read && c->flaw_count == 0)
        return 0;
    q = db_query(book,
                 "INSERT INTO face (coupon_id, bead_mm, complete)"
                 " VALUES (:coupon_id, :bead_mm, :complete)",
                 e);
    if (q == NULL)
        return -1;
    query_put_text(q, ":coupon_id", id);
    query_put_real(q, ":bead_mm", c->bead_mm);
    query_put_int(q, ":complete", c->face_read);
    if (query_run(q, e) < 0)
        return -1;
    for (size_t i = 0; i < c->flaw_count; i++)
        if (write_flaw(book, &c->flaws[i], i + 1, id, e) < 0)
            return error_where(e, "flaw %zu", i + 1);
    return 0;
}

static int write_photos(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    for (size_t i = 0; i < c->photo_count; i++) {
        const struct photo *p = &c->photos[i];
        struct query *q = db_query(book,
                                   "INSERT INTO photo (coupon_id, number, path, sha256, note)"
                                   " VALUES (:coupon_id, :number, :path, :sha256, :note)",
                                   e);

        if (q == NULL)
            return -1;
        query_put_text(q, ":coupon_id", id);
        query_put_int(q, ":number", (int64_t)i + 1);
        query_put_text(q, ":path", p->path);
        query_put_text(q, ":sha256", p->sha256);
        query_put_text(q, ":note", p->note);
        if (query_run(q, e) < 0)
            return error_where(e, "photograph %zu", i + 1);
    }
    return 0;
}

int coupon_rows_write(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    static int (*const writers[])(struct book *, const struct coupon *, const char *,
                                  struct error *) = {write_values, write_passes, write_bend,
                                                     write_face, write_photos};

    for (size_t i = 0; i < sizeof writers / sizeof writers[0]; i++)
        if (writers[i](book, c, id, e) < 0)
            return -1;
    return 0;
}

int coupon_rows_clear(struct book *book, const char *id, struct error *e)
{
    static const char *const tables[] = {"value", "pass", "bend", "flaw", "face", "photo"};

    return db_clear(book, tables, sizeof tables / sizeof tables[0], "coupon_id", id, e);
}
