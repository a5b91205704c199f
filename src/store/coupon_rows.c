/* Writing the rows of a coupon, table by table; those of its parts from the part tables. */
#include "store/coupon_rows.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "store/query.h"
#include "store/variable_ids.h"

enum { MOST_COLUMNS = 32 }; /* of a part's table */

/* A number as given; "" where it was given as the number that is stored, in its unit. */
static const char *words_of(const struct value *v, const char *unit)
{
    char plain[ENTRY_SIZE];

    if (v->kind == VARIABLE_CATEGORY || v->text == NULL || v->measure.kind != MEASURE_EXACT)
        return v->text;
    coupon_plain_entry(plain, v->measure.low, unit);
    return strcmp(plain, v->text) == 0 ? "" : v->text;
}

static int write_value(struct query *q, const struct value *v, const struct variable_id *variable,
                       struct error *e)
{
    const struct measure *m = &v->measure;
    bool exact = v->kind == VARIABLE_CATEGORY || m->kind == MEASURE_EXACT;

    query_put_int(q, ":variable_id", variable->id);
    query_put_text(q, ":kind", exact ? NULL : measure_kind_code(m->kind));
    query_put_real(q, ":low", v->kind == VARIABLE_CATEGORY || isinf(m->low) ? NAN : m->low);
    query_put_real(q, ":high", exact || isinf(m->high) ? NAN : m->high);
    query_put_text(q, ":words", words_of(v, variable->unit));
    return query_run(q, e) < 0 ? error_where(e, "%s", v->variable) : 0;
}

static int write_values(struct book *book, const struct coupon *c, int64_t id, struct error *e)
{
    static const char *const columns[] = {"coupon_id", "variable_id", "low", "high",
                                          "words",     "kind",        NULL};
    struct query *q = query_begin_row(book, "value", columns, NULL, e);
    int rc = q == NULL ? -1 : 0;

    query_put_int(q, ":coupon_id", id);
    for (size_t i = 0; i < c->value_count && rc == 0; i++) {
        const struct value *v = &c->values[i];
        const struct variable_id *variable;

        if (v->kind != VARIABLE_CATEGORY && !measure_known(v->measure))
            continue;
        variable = variable_id(book, v->variable, e);
        rc = variable == NULL ? -1 : write_value(q, v, variable, e);
    }
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

static int write_part(struct book *book, const struct coupon *c, enum part_id id, int64_t coupon_id,
                      struct error *e)
{
    const struct part_table *part = &part_tables[id];
    size_t count = part_count(c, id);
    struct query *q = count == 0 ? NULL : begin_part(book, part, e);
    int rc = 0;

    query_put_int(q, ":coupon_id", coupon_id);
    for (size_t i = 0; i < count && rc == 0; i++) {
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

int coupon_rows_write(struct book *book, const struct coupon *c, int64_t id, struct error *e)
{
    int rc = write_values(book, c, id, e);

    if (rc == 0)
        rc = check_passes(c, e);
    for (enum part_id part = 0; part < PARTS && rc == 0; part++)
        rc = write_part(book, c, part, id, e);
    return rc;
}

/* The last table first: a flaw refers to its face. */
int coupon_rows_clear(struct book *book, int64_t id, struct error *e)
{
    int rc = query_delete(book, "value", "coupon_id", id, e);

    for (size_t part = PARTS; part-- > 0 && rc == 0;)
        rc = query_delete(book, part_tables[part].table, "coupon_id", id, e);
    return rc;
}
