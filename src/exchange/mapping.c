#include "exchange/mapping.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/array.h"
#include "base/mem.h"
#include "exchange/columns.h"
#include "model/refuse.h"

/* The second half of importing: rows to coupons. */
struct reading {
    const struct csv_table *table;
    const struct import_options *options;
    struct import *out;
    struct column_plan *plans;
    const struct csv_row *row; /* being read */
    struct column_plan *plan;  /* of the cell being read; NULL: the whole row */
    struct coupon *coupon;     /* being made of the row */
    bool bad;                  /* the row has been rejected */
};

static void reject(struct reading *r, char *reason)
{
    struct import *i = r->out;
    const char *column = r->plan == NULL ? NULL : r->plan->name;

    i->rejects =
        array_reserve(i->rejects, &i->reject_capacity, i->reject_count + 1, sizeof *i->rejects);
    i->rejects[i->reject_count++] = (struct reject){r->row->line, mem_copy(column), reason};
    r->bad = true;
}

/* The label in front of a message would only repeat the column. */
static const char *without_label(const char *message, const char *label)
{
    size_t length = strlen(label);
    bool labelled = text_starts(message, label) && text_starts(message + length, ": ");

    return labelled ? message + length + 2 : message;
}

/* The variable as this table has it. */
static struct variable as_read(const struct variable *v, const struct column_plan *plan)
{
    struct variable as = *v;

    if (!plan->other_kind)
        return as;
    as.kind = v->kind == VARIABLE_NUMBER ? VARIABLE_CATEGORY : VARIABLE_NUMBER;
    as.can = as.usual = (struct range){0};
    return as;
}

static void read_value(struct reading *r, const char *cell)
{
    struct column_plan *plan = r->plan;
    struct variable v = as_read(&r->out->variables.items[plan->variable], plan);
    struct error e = {0};
    struct intake in = {.units = r->options->system, .bare = plan->bare, .sure = true, .error = &e};
    char shown[QUOTE_SIZE];

    if (v.kind == VARIABLE_NUMBER && number_is_doubtful(cell, r->table->decimal_comma))
        reject(r, mem_format("'%s' may mean thousands or decimals; write it without a mark between "
                             "thousands, or the decimals with a %s",
                             quote_text(shown, cell), r->table->decimal_comma ? "comma" : "point"));
    else if (coupon_set_from_text(r->coupon, &v, cell, &in) != 0)
        reject(r, mem_format("%s%s", without_label(e.text, v.label),
                             plan->words ? "; no cell of this column can be read so: under another "
                                           "name it becomes a variable of your own"
                                         : ""));
    else if (in.question[0] != '\0' && plan->unusual++ == 0)
        plan->question = mem_format("line %zu: %s", r->row->line, in.question);
}

static void read_when(struct reading *r, const char *cell)
{
    char shown[QUOTE_SIZE], why[128];

    /* Without an offset the time is shown as it was written. */
    if (!clock_parse_part(cell, "T00:00:00Z", &r->coupon->when))
        reject(r, mem_format("'%s' is not a date; write 2026-03-07 or 2026-03-07 14:05",
                             quote_text(shown, cell)));
    else if (!clock_credible(r->coupon->when, why, sizeof why))
        reject(r, mem_format("'%s' %s", quote_text(shown, cell), why));
}

/* Of UTF-8, as the book counts them. */
static size_t characters(const char *s)
{
    size_t n = 0;

    for (; *s != '\0'; s++)
        n += (*s & 0xc0) != 0x80;
    return n;
}

static void read_text(struct reading *r, const char *cell)
{
    const struct coupon_column *column = &coupon_columns[r->plan->use];

    if (characters(cell) > column->longest || (!column->lines && strpbrk(cell, "\r\n\t") != NULL))
        reject(r, mem_format(column->lines ? "longer than %zu characters"
                                           : "takes one line of at most %zu characters",
                             column->longest));
    else
        *(char **)(void *)((char *)r->coupon + column->offset) = mem_copy(cell);
}

static void read_cell(struct reading *r, const char *cell)
{
    if (cell[0] == '\0' || r->plan->use == COLUMN_LEFT_OUT)
        return;
    if (r->plan->use == COLUMN_VARIABLE)
        read_value(r, cell);
    else if (r->plan->use == COLUMN_WHEN)
        read_when(r, cell);
    else
        read_text(r, cell);
}

static bool check_shape(struct reading *r)
{
    size_t want = r->table->header.count, have = r->row->count;

    while (have > want && r->row->cells[have - 1][0] == '\0')
        have--;
    if (have != want)
        reject(r, mem_format("%zu cells where the first row names %zu columns; leave cells empty, "
                             "but keep the separators",
                             have, want));
    return have == want;
}

/* `twin`: the line of an earlier row with the same mark, or 0. */
static void read_row(struct reading *r, const struct csv_row *row, size_t twin)
{
    struct coupon *c = coupon_list_add(&r->out->coupons);

    r->row = row;
    r->plan = NULL;
    r->coupon = c;
    r->bad = false;
    if (check_shape(r))
        for (size_t i = 0; i < r->table->header.count; i++) {
            r->plan = &r->plans[i];
            read_cell(r, csv_cell(row, i));
            if (r->plan->use == COLUMN_MARK && c->mark != NULL && twin != 0)
                reject(r, mem_format("the mark '%s' is in line %zu already", c->mark, twin));
        }
    if (r->bad) {
        r->out->rows_rejected++;
        coupon_free(c);
        r->out->coupons.count--;
    } else {
        r->out->lines[r->out->coupons.count - 1] = row->line;
    }
}

struct marked {
    const char *mark;
    size_t row, line;
};

static int by_mark(const void *a, const void *b)
{
    const struct marked *x = a, *y = b;
    int order = strcasecmp(x->mark, y->mark);

    return order != 0 ? order : (x->row > y->row) - (x->row < y->row);
}

/* For each row the line of the first row with its mark, when that is an earlier one; else 0. */
static size_t *find_twins(const struct csv_table *table, const struct column_plan *plans)
{
    size_t *twin = mem_zero(table->count, sizeof *twin), column = 0, first = 0;
    struct marked *sorted;

    while (column < table->header.count && plans[column].use != COLUMN_MARK)
        column++;
    if (column == table->header.count)
        return twin;
    sorted = mem_zero(table->count, sizeof *sorted);
    for (size_t i = 0; i < table->count; i++)
        sorted[i] = (struct marked){csv_cell(&table->rows[i], column), i, table->rows[i].line};
    qsort(sorted, table->count, sizeof *sorted, by_mark);
    for (size_t i = 1; i < table->count; i++) {
        if (strcasecmp(sorted[i].mark, sorted[first].mark) != 0)
            first = i;
        else if (sorted[i].mark[0] != '\0')
            twin[sorted[i].row] = sorted[first].line;
    }
    free(sorted);
    return twin;
}

static void say_unusual(const struct reading *r)
{
    for (size_t i = 0; i < r->table->header.count; i++) {
        const struct column_plan *plan = &r->plans[i];

        if (plan->unusual == 1)
            import_note(r->out, mem_format("column '%s', %s", plan->name, plan->question));
        else if (plan->unusual > 1)
            import_note(r->out, mem_format("column '%s': %zu unusual values, the first in %s",
                                           plan->name, plan->unusual, plan->question));
    }
}

/* The book's own variables are copied, so that the import can be freed on its own. */
static int copy_variables(struct import *out, const struct variable_list *known, struct error *e)
{
    variable_list_init(&out->variables);
    for (size_t i = 0; i < known->count; i++)
        if (known->items[i].own && variable_add(&out->variables, &known->items[i], e) != 0)
            return -1;
    out->own_from = out->variables.count;
    return 0;
}

int import_table(const struct csv_table *table, const struct variable_list *known,
                 const struct import_options *options, struct import *out, struct error *e)
{
    struct reading r = {.table = table, .options = options, .out = out};
    size_t *twin = NULL;
    int rc = -1;

    memset(out, 0, sizeof *out);
    if (table->count == 0)
        return error_set(e, ERROR_INPUT, "there is a row of names but no row of values");
    if (copy_variables(out, known, e) != 0 || columns_plan(table, options, out, &r.plans, e) != 0)
        goto cleanup;
    twin = find_twins(table, r.plans);
    out->lines = mem_zero(table->count, sizeof *out->lines);
    for (size_t i = 0; i < table->count; i++)
        read_row(&r, &table->rows[i], twin[i]);
    say_unusual(&r);
    rc = 0;
cleanup:
    columns_free(r.plans, table->header.count);
    free(twin);
    if (rc != 0)
        import_free(out);
    return rc;
}

void import_free(struct import *i)
{
    coupon_list_free(&i->coupons);
    variable_list_free(&i->variables);
    for (size_t n = 0; n < i->reject_count; n++) {
        free(i->rejects[n].column);
        free(i->rejects[n].reason);
    }
    for (size_t n = 0; n < i->note_count; n++)
        free(i->notes[n].text);
    free(i->lines);
    free(i->rejects);
    free(i->notes);
    memset(i, 0, sizeof *i);
}
