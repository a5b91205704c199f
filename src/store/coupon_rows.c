/* Writing the rows of a coupon, table by table; those of its parts from the part tables. */
#include "store/coupon_rows.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

#include "store/query.h"

enum { MOST_COLUMNS = 32 }; /* of a part's table */

static int write_value(struct query *q, const struct value *v, struct error *e)
{
    bool category = v->kind == VARIABLE_CATEGORY;

    query_put_text(q, ":variable", v->variable);
    query_put_text(q, ":kind", category ? "category" : measure_kind_code(v->measure.kind));
    query_put_real(q, ":low", category || isinf(v->measure.low) ? NAN : v->measure.low);
    query_put_real(q, ":high", category || isinf(v->measure.high) ? NAN : v->measure.high);
    query_put_text(q, ":category", category ? v->text : NULL);
    query_put_text(q, ":entry", category ? NULL : v->text);
    return query_run(q, e) < 0 ? error_where(e, "%s", v->variable) : 0;
}

static int write_values(struct book *book, const struct coupon *c, const char *id, struct error *e)
{
    static const char *const columns[] = {"coupon_id", "variable", "kind",  "low",
                                          "high",      "category", "entry", NULL};
    struct query *q = query_begin_row(book, "value", columns, NULL, e);
    int rc = 0;

    query_put_text(q, ":coupon_id", id);
    for (size_t i = 0; i < c->value_count && rc == 0; i++)
        if (c->values[i].kind == VARIABLE_CATEGORY || measure_known(c->values[i].measure))
            rc = write_value(q, &c->values[i], e);
    query_end(q);
    return rc;
}

static struct query *begin_part(struct book *book, const struct part_table *part, struct error *e)
{
    const char *columns[MOST_COLUMNS + 1] = {"coupon_id"};
    size_t count = 1;

    if (part->size > 0)
        columns[count++] = "number";
    for (const struct part_row *row = part->rows; row->key != NULL; row++) {
        assert(count < MOST_COLUMNS);
        columns[count++] = part_column(row);
    }
    return query_begin_row(book, part->table, columns, NULL, e);
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
        query_put_text(q, name, NULL);
    else
        query_put_int(q, name, part_whole(row, base));
}

static int write_part(struct book *book, const struct coupon *c, enum part_id id,
                      const char *coupon_id, struct error *e)
{
    const struct part_table *part = &part_tables[id];
    struct query *q = begin_part(book, part, e);
    int rc = 0;

    query_put_text(q, ":coupon_id", coupon_id);
    for (size_t i = 0; i < part_count(c, id) && rc == 0; i++) {
        if (part->size > 0)
            query_put_int(q, ":number", (int64_t)i + 1);
        for (const struct part_row *row = part->rows; row->key != NULL; row++)
            put_row(q, row, part_item(c, id, i));
        rc = query_run(q, e);
        if (rc < 0 && part->size > 0)
            error_where(e, "%s %zu", part->name, i + 1);
    }
    query_end(q);
    return rc;
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
    for (enum part_id part = 0; part < PARTS && rc == 0; part++)
        rc = write_part(book, c, part, id, e);
    return rc;
}

/* The last table first: a flaw refers to its face. */
int coupon_rows_clear(struct book *book, const char *id, struct error *e)
{
    int rc = query_delete(book, "value", "coupon_id", id, e);

    for (size_t part = PARTS; part-- > 0 && rc == 0;)
        rc = query_delete(book, part_tables[part].table, "coupon_id", id, e);
    return rc;
}
