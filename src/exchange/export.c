#include "exchange/export.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "exchange/columns.h"

/* The columns of one wide table. */
struct columns {
    const struct variable **items;
    size_t count;
    bool has[COLUMN_VARIABLE]; /* those of the coupon itself */
};

static bool wanted(const struct coupon *c, bool with_struck)
{
    return with_struck || c->struck_why == NULL;
}

static char *coupon_cell(const struct coupon *c, enum column_use use)
{
    char when[40];

    if (use != COLUMN_WHEN)
        return mem_copy(
            *(char *const *)(const void *)((const char *)c + coupon_columns[use].offset));
    clock_format(when, sizeof when, c->when);
    return c->when.utc_ms == 0 ? NULL : mem_copy(when);
}

static void find_columns(struct columns *out, const struct coupon_list *coupons,
                         const struct variable_list *variables, bool with_struck)
{
    bool *said = coupon_list_said(coupons, with_struck, variables);

    out->items = mem_zero(variables->count, sizeof *out->items);
    out->has[COLUMN_MARK] = true;
    for (size_t i = 0; i < coupons->count; i++) {
        const struct coupon *c = &coupons->items[i];

        if (!wanted(c, with_struck))
            continue;
        for (enum column_use use = COLUMN_MARK; use < COLUMN_VARIABLE; use++) {
            char *cell = out->has[use] ? NULL : coupon_cell(c, use);

            out->has[use] |= cell != NULL;
            free(cell);
        }
    }
    for (size_t i = 0; i < variables->count; i++)
        if (said[i] && variables->items[i].group != GROUP_DERIVED)
            out->items[out->count++] = &variables->items[i];
    free(said);
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
    struct text first; /* where the first formula is */
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

/* The row of a coupon; without one, that of the names. Note and reason stand behind the variables.
 */
static void add_row(struct text *out, struct cells *row, const struct columns *columns,
                    const struct coupon_list *coupons, const struct coupon *c)
{
    for (enum column_use use = COLUMN_MARK; use < COLUMN_VARIABLE; use++) {
        for (size_t i = 0; use == COLUMN_NOTE && i < columns->count; i++)
            add_cell(row, c == NULL ? column_name(coupons, columns->items[i])
                                    : value_cell(coupon_value(c, columns->items[i]->key)));
        if (columns->has[use])
            add_cell(row, c == NULL ? mem_copy(coupon_columns[use].name) : coupon_cell(c, use));
    }
    end_row(out, row);
}

char *export_csv(struct text *out, const struct coupon_list *coupons,
                 const struct variable_list *variables, bool with_struck)
{
    char *remark = NULL;
    struct columns columns = {0};
    struct cells row = {0};

    find_columns(&columns, coupons, variables, with_struck);
    row.items = mem_zero(columns.count + COLUMN_VARIABLE, sizeof *row.items);
    row.titles = mem_zero(columns.count + COLUMN_VARIABLE, sizeof *row.titles);
    add_row(out, &row, &columns, coupons, NULL);
    for (size_t i = 0; i < coupons->count; i++)
        if (wanted(&coupons->items[i], with_struck))
            add_row(out, &row, &columns, coupons, &coupons->items[i]);
    if (row.formulas > 0)
        remark = mem_format("%zu cell%s like a formula (=, +, -, @), which a spreadsheet may work "
                            "out; the first is %s",
                            row.formulas, row.formulas == 1 ? " begins" : "s begin",
                            text_str(&row.first));
    text_free(&row.first);
    for (char **title = row.titles; *title != NULL; title++)
        free(*title);
    free(row.titles);
    free(row.items);
    free(columns.items);
    return remark;
}
