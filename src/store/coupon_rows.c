/* Writing the rows of a coupon, table by table; those of its parts from the part tables. */
#include "store/coupon_rows.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "base/text.h"

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

static char *insert_sql(const struct part_table *part)
{
    struct text sql = {0};
    const char *numbered = part->size > 0 ? ", number" : "";

    text_addf(&sql, "INSERT INTO %s (coupon_id%s", part->table, numbered);
    for (const struct part_row *row = part->rows; row->key != NULL; row++)
        text_addf(&sql, ", %s", part_column(row));
    text_addf(&sql, ") VALUES (:coupon_id%s", part->size > 0 ? ", :number" : "");
    for (const struct part_row *row = part->rows; row->key != NULL; row++)
        text_addf(&sql, ", :%s", part_column(row));
    text_add(&sql, ")");
    return text_steal(&sql);
}

static void put_row(struct query *q, const struct part_row *row, const void *base)
{
    const void *from = (const char *)base + row->offset;
    char name[48];

    snprintf(name, sizeof name, ":%s", part_column(row));
    if (row->kind == PART_NUMBER)
        query_put_real(q, name, *(const double *)from);
    else if (part_is_text(row))
        query_put_text(q, name, *(char *const *)from);
    else if (part_code(row, base) != NULL)
        query_put_text(q, name, part_code(row, base));
    else if (row->kind == PART_SIDE && part_whole(row, base) == 0)
        query_put_null(q, name);
    else
        query_put_int(q, name, part_whole(row, base));
}

static int write_part(struct book *book, const struct coupon *c, enum part_id id, size_t i,
                      const char *sql, const char *coupon_id, struct error *e)
{
    const struct part_table *part = &part_tables[id];
    struct query *q = db_query(book, sql, e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":coupon_id", coupon_id);
    if (part->size > 0)
        query_put_int(q, ":number", (int64_t)i + 1);
    for (const struct part_row *row = part->rows; row->key != NULL; row++)
        put_row(q, row, part_item(c, id, i));
    if (query_run(q, e) == 0)
        return 0;
    return part->size > 0 ? error_where(e, "%s %zu", part->name, i + 1) : -1;
}

static int check_passes(const struct coupon *c, struct error *e)
{
    for (size_t i = 0; i < c->pass_count; i++)
        if (c->passes[i].number != (int)i + 1)
            return error_set(
                e, ERROR_INPUT,
                "the passes must be numbered 1, 2, 3 …: number %d stands in place %zu; "
                "nothing of this was stored",
                c->passes[i].number, i + 1);
    return 0;
}

int coupon_rows_write(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    int rc = write_values(book, c, id, e);

    if (rc == 0)
        rc = check_passes(c, e);
    for (enum part_id part = 0; part < PARTS && rc == 0; part++) {
        size_t count = part_count(c, part);
        char *sql = count == 0 ? NULL : insert_sql(&part_tables[part]);

        for (size_t i = 0; i < count && rc == 0; i++)
            rc = write_part(book, c, part, i, sql, id, e);
        free(sql);
    }
    return rc;
}

int coupon_rows_clear(struct book *book, const char *id, struct error *e)
{
    static const char *const tables[] = {"value", "pass", "bend", "flaw", "face", "photo"};

    return db_clear(book, tables, sizeof tables / sizeof tables[0], "coupon_id", id, e);
}
