#include "exchange/export.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "exchange/csv_table.h"

/* The columns of one wide table. */
struct columns {
    const struct variable **items;
    size_t count;
    bool when, who, note, struck;
};

static bool wanted(const struct coupon *c, bool with_struck)
{
    return with_struck || c->struck_why == NULL;
}

static bool any_value(const struct coupon_list *coupons, const char *key, bool with_struck)
{
    for (size_t i = 0; i < coupons->count; i++)
        if (wanted(&coupons->items[i], with_struck) && coupon_value(&coupons->items[i], key))
            return true;
    return false;
}

static void find_columns(struct columns *out, const struct coupon_list *coupons,
                         const struct variable_list *variables, bool with_struck)
{
    memset(out, 0, sizeof *out);
    out->items = mem_zero(variables->count, sizeof *out->items);
    for (size_t i = 0; i < variables->count; i++)
        if (variables->items[i].group != GROUP_DERIVED &&
            any_value(coupons, variables->items[i].key, with_struck))
            out->items[out->count++] = &variables->items[i];
    for (size_t i = 0; i < coupons->count; i++) {
        const struct coupon *c = &coupons->items[i];

        out->when |= wanted(c, with_struck) && c->when.utc_ms != 0;
        out->who |= wanted(c, with_struck) && c->who != NULL;
        out->note |= wanted(c, with_struck) && c->note != NULL;
        out->struck |= with_struck && c->struck_why != NULL;
    }
}

static bool has_numbers(const struct coupon_list *coupons, const char *key)
{
    for (size_t i = 0; i < coupons->count; i++) {
        const struct value *value = coupon_value(&coupons->items[i], key);

        if (value != NULL && value->kind == VARIABLE_NUMBER)
            return true;
    }
    return false;
}

/* A category of the user's own says so, or a column of numbers would come back as a number; where
 * these coupons have numbers for it, that is what they are. */
static char *column_name(const struct coupon_list *coupons, const struct variable *v)
{
    const struct unit *unit = unit_base(v->dimension);

    if (v->kind == VARIABLE_CATEGORY)
        return v->own && !has_numbers(coupons, v->key) ? mem_format("%s (category)", v->key)
                                                       : mem_copy(v->key);
    if (v->unit != NULL)
        return mem_format("%s (%s)", v->key, v->unit);
    return unit == NULL ? mem_copy(v->key) : mem_format("%s (%s)", v->key, unit->key);
}

/* A row being put together; the cells are owned. */
struct cells {
    char **items, **titles; /* of this row, and of the header */
    size_t count, formulas;
    struct text first; /* where the first formula stands */
};

static void add_cell(struct cells *row, char *cell)
{
    row->items[row->count++] = cell;
}

/* What a spreadsheet would work out: -5, -5+ and -5..-3 are numbers. */
static bool is_formula(const char *cell)
{
    const char *end;
    double number;

    if (cell == NULL || *cell == '\0' || strchr("=+-@\t\r", *cell) == NULL)
        return false;
    return !text_number(cell, &end, &number) ||
           !(*end == '\0' || strcmp(end, "+") == 0 || text_starts(end, ".."));
}

static void end_row(struct text *out, struct cells *row)
{
    for (size_t i = 0; i < row->count; i++)
        if (is_formula(row->items[i]) && row->formulas++ == 0)
            text_addf(&row->first, "%s of coupon %s", row->titles[i], row->items[0]);
    csv_add_row(out, (const char *const *)row->items, row->count);
    for (size_t i = 0; i < row->count; i++)
        if (row->titles[i] == NULL)
            row->titles[i] = row->items[i]; /* the first row */
        else
            free(row->items[i]);
    row->count = 0;
}

static void add_header(struct text *out, struct cells *row, const struct columns *columns,
                       const struct coupon_list *coupons)
{
    add_cell(row, mem_copy("mark"));
    if (columns->when)
        add_cell(row, mem_copy("when"));
    if (columns->who)
        add_cell(row, mem_copy("who"));
    for (size_t i = 0; i < columns->count; i++)
        add_cell(row, column_name(coupons, columns->items[i]));
    if (columns->note)
        add_cell(row, mem_copy("note"));
    if (columns->struck)
        add_cell(row, mem_copy("struck"));
    end_row(out, row);
}

static char *instant_cell(struct instant when)
{
    char text[40] = "";

    if (when.utc_ms != 0)
        clock_format(text, sizeof text, when);
    return mem_copy(text);
}

static char *value_cell(const struct value *value)
{
    char number[96];

    if (value == NULL)
        return NULL;
    if (value->kind == VARIABLE_CATEGORY)
        return mem_copy(value->text);
    measure_format_plain(number, sizeof number, value->measure);
    return mem_copy(number);
}

static void add_coupon(struct text *out, struct cells *row, const struct columns *columns,
                       const struct coupon *c)
{
    add_cell(row, mem_copy(c->mark));
    if (columns->when)
        add_cell(row, instant_cell(c->when));
    if (columns->who)
        add_cell(row, mem_copy(c->who));
    for (size_t i = 0; i < columns->count; i++)
        add_cell(row, value_cell(coupon_value(c, columns->items[i]->key)));
    if (columns->note)
        add_cell(row, mem_copy(c->note));
    if (columns->struck)
        add_cell(row, mem_copy(c->struck_why));
    end_row(out, row);
}

char *export_csv(struct text *out, const struct coupon_list *coupons,
                 const struct variable_list *variables, bool with_struck)
{
    char *remark = NULL;
    struct columns columns;
    struct cells row = {0};

    find_columns(&columns, coupons, variables, with_struck);
    row.items = mem_zero(columns.count + 5, sizeof *row.items);
    row.titles = mem_zero(columns.count + 5, sizeof *row.titles);
    add_header(out, &row, &columns, coupons);
    for (size_t i = 0; i < coupons->count; i++)
        if (wanted(&coupons->items[i], with_struck))
            add_coupon(out, &row, &columns, &coupons->items[i]);
    if (row.formulas > 0)
        remark = mem_format("%zu cell%s like a formula (=, +, -, @), which a spreadsheet may work "
                            "out; the first is %s",
                            row.formulas, row.formulas == 1 ? " begins" : "s begin",
                            text_str(&row.first));
    text_free(&row.first);
    for (size_t i = 0; i < columns.count + 5; i++)
        free(row.titles[i]);
    free(row.titles);
    free(row.items);
    free(columns.items);
    return remark;
}
