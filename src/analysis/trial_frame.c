#include "analysis/trial_frame.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "derived/derived.h"
#include "model/variable.h"
#include "model/variable_key.h"

/* The number a cause is worth in this coupon; a category's word is found by category_of(). */
static double number_of(const struct coupon *c, const struct variable *v)
{
    return measure_point(coupon_measure(c, v->key));
}

static const char *category_of(const struct coupon *c, const struct variable *v, char *buffer,
                               size_t size)
{
    const struct value *value = coupon_value(c, v->key);

    if (value != NULL && value->kind == VARIABLE_CATEGORY)
        return value->text;
    if (value != NULL && v->own) { /* a number among words */
        text_from_number(buffer, size, measure_point(value->measure));
        return buffer;
    }
    if (strcmp(v->key, KEY_WELDER) == 0)
        return c->who;
    if (strcmp(v->key, KEY_DAY) == 0 && c->when.utc_ms != 0) {
        clock_format_day(buffer, size, c->when);
        return buffer;
    }
    return NULL;
}

/*
 * A user's own variable may be numbers in one trial and words in another: words anywhere in this
 * trial make it a category here.
 */
static bool is_category(const struct coupon_list *coupons, const struct variable *v)
{
    bool numbers = false;

    for (size_t i = 0; v->own && i < coupons->count; i++) {
        const struct value *value = coupon_value(&coupons->items[i], v->key);

        if (value != NULL && value->kind == VARIABLE_CATEGORY)
            return true;
        numbers = numbers || value != NULL;
    }
    return v->kind == VARIABLE_CATEGORY && !numbers;
}

/* The day, which every coupon has anyway, counts where it was written down as a variable or asked
 * for: a date that differs on every coupon would be tied with everything. */
static bool says_something(const struct coupon *c, const struct variable *v, bool asked)
{
    char buffer[32];

    if (!asked && strcmp(v->key, KEY_DAY) == 0)
        return coupon_value(c, v->key) != NULL;
    return !isnan(number_of(c, v)) || category_of(c, v, buffer, sizeof buffer) != NULL;
}

/* Whether one of the names (keys or labels) is this variable's. */
static bool named(const struct session *s, const struct variable *v, const char *const *names,
                  size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (variable_find(&s->variables, names[i]) == v)
            return true;
    return false;
}

/* Whether a derived variable of the request takes the place of this one. */
static bool replaced(const struct session *s, const struct frame_request *r, const char *key)
{
    for (size_t i = 0; i < r->with_count; i++) {
        const char *const *from = variable_find(&s->variables, r->with[i])->from;

        for (size_t j = 0; from[j] != NULL; j++)
            if (strcmp(from[j], key) == 0)
                return true;
    }
    return false;
}

/* `said`: some coupon has a value for it. Others, of which nothing can be known without one, need
 * no look at every coupon. */
static bool wanted(const struct session *s, const struct coupon_list *coupons,
                   const struct frame_request *r, const struct variable *v, bool said)
{
    bool asked = named(s, v, r->with, r->with_count);
    bool known_otherwise =
        coupon_works_out(v->key) || strcmp(v->key, KEY_WELDER) == 0 || strcmp(v->key, KEY_DAY) == 0;

    if (v->role != ROLE_CAUSE || named(s, v, r->without, r->without_count))
        return false;
    if (!asked && (v->group == GROUP_DERIVED || replaced(s, r, v->key)))
        return false;
    for (size_t i = 0; (said || known_otherwise) && i < coupons->count; i++)
        if (says_something(&coupons->items[i], v, asked))
            return true;
    return false;
}

static void set_cell(struct frame *f, size_t row, size_t column, const struct coupon *c,
                     const struct variable *v)
{
    char buffer[32];
    const char *level;
    double number;

    if (!f->columns[column].category) {
        number = number_of(c, v);
        if (!isnan(number))
            frame_set_number(f, row, column, number);
        return;
    }
    level = category_of(c, v, buffer, sizeof buffer);
    if (level != NULL)
        frame_set_level(f, row, column, level);
}

static double result_range(const struct variable *result)
{
    if (result->scale > 0)
        return result->scale;
    return result->unit != NULL && strcmp(result->unit, "%") == 0 ? 100 : 0;
}

void trial_frame_units(const struct session *s, struct frame *f)
{
    const struct variable *v = variable_find(&s->variables, f->result_key);

    f->result_shown = v == NULL ? NULL : unit_shown(v->dimension, s->units);
    for (size_t j = 0; j < f->k; j++) {
        v = variable_find(&s->variables, f->columns[j].key);
        if (v != NULL && !f->columns[j].category)
            f->columns[j].shown = unit_shown(v->dimension, s->units);
    }
}

/* A user's own unit is no unit of the table: nothing is converted. */
static const char *own_unit(const struct variable *v)
{
    return v->kind == VARIABLE_NUMBER && v->unit != NULL ? v->unit : "";
}

static int check_names(const struct session *s, const char *const *names, size_t count,
                       struct error *e)
{
    for (size_t i = 0; i < count; i++) {
        const struct variable *v = variable_find(&s->variables, names[i]);

        if (v == NULL || v->role != ROLE_CAUSE)
            return error_set(
                e, ERROR_USAGE,
                "'%s' is no cause in the variable table; 'coldlap variable' lists them", names[i]);
    }
    return 0;
}

int trial_frame(const struct session *s, const struct coupon_list *coupons,
                const struct frame_request *r, struct frame *out, struct error *e)
{
    const struct variable **columns;
    bool *said;

    if (check_names(s, r->with, r->with_count, e) < 0 ||
        check_names(s, r->without, r->without_count, e) < 0)
        return -1;
    frame_init(out, r->result->key, r->result->label, own_unit(r->result), result_range(r->result));
    columns = mem_zero(s->variables.count, sizeof *columns);
    said = coupon_list_said(coupons, true, &s->variables);
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];

        if (wanted(s, coupons, r, v, said[i]))
            columns[frame_add_column(out, v->key, v->label, own_unit(v), is_category(coupons, v))] =
                v;
    }
    for (size_t i = 0; i < coupons->count; i++) {
        const struct coupon *c = &coupons->items[i];
        size_t row = frame_add_row(out, c->mark, coupon_measure(c, r->result->key));

        for (size_t j = 0; j < out->k; j++)
            set_cell(out, row, j, c, columns[j]);
    }
    frame_sort_levels(out);
    trial_frame_units(s, out);
    free(columns);
    free(said);
    return 0;
}
