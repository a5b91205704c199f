/* The values of a coupon: setting, comparing, reading what was typed, showing. */
#include "model/coupon.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/refuse.h"

static struct value *find_value(const struct coupon *c, const char *key)
{
    for (size_t i = 0; i < c->value_count; i++)
        if (strcmp(c->values[i].variable, key) == 0)
            return &c->values[i];
    return NULL;
}

const struct value *coupon_value(const struct coupon *c, const char *key)
{
    return find_value(c, key);
}

static void set(struct coupon *c, const char *key, struct value with)
{
    struct value *value = find_value(c, key);

    with.text = mem_copy(with.text);
    if (value == NULL) {
        c->values =
            array_reserve(c->values, &c->value_capacity, c->value_count + 1, sizeof *c->values);
        value = &c->values[c->value_count++];
        *value = (struct value){.variable = mem_copy(key)};
    }
    with.variable = value->variable;
    free(value->text);
    *value = with;
}

void coupon_set_number(struct coupon *c, const char *key, struct measure m, const char *entry)
{
    const char *text = entry == NULL || entry[0] == '\0' ? NULL : entry;

    if (!measure_known(m))
        coupon_unset(c, key);
    else
        set(c, key, (struct value){NULL, VARIABLE_NUMBER, m, (char *)(uintptr_t)text});
}

void coupon_set_category(struct coupon *c, const char *key, const char *text)
{
    if (text == NULL || text[0] == '\0')
        coupon_unset(c, key);
    else
        set(c, key,
            (struct value){NULL, VARIABLE_CATEGORY, measure_missing(), (char *)(uintptr_t)text});
}

void coupon_unset(struct coupon *c, const char *key)
{
    struct value *value = find_value(c, key);

    if (value == NULL)
        return;
    free(value->variable);
    free(value->text);
    array_cut(c->values, c->value_count--, (size_t)(value - c->values), sizeof *c->values);
}

bool value_same(const struct value *a, const struct value *b)
{
    if (a == NULL || b == NULL)
        return a == b;
    if (a->kind != b->kind)
        return false;
    return a->kind == VARIABLE_CATEGORY ? strcmp(a->text, b->text) == 0
                                        : measure_same(a->measure, b->measure);
}

/* In its usual spelling; of one with a number only that. */
static void set_choice(struct coupon *c, const struct variable *v,
                       const struct usual_choice *choice)
{
    char *usual = mem_copy_part(choice->text, choice->code > 0 ? choice->code : choice->length);

    coupon_set_category(c, v->key, usual);
    free(usual);
}

static int set_category(struct coupon *c, const struct variable *v, const char *text,
                        struct error *e)
{
    struct usual_choice choice = variable_choice(v, text);
    char *list = NULL, shown[QUOTE_SIZE];
    int rc = 0;

    if (choice.text == NULL && v->choices_only)
        rc = error_set(e, ERROR_INPUT, "%s: '%s' is not among %s", v->label,
                       quote_text(shown, text), list = list_choices(v->choices));
    else if (!text_valid(text) || strchr(text, '\n') != NULL || strlen(text) > 200)
        rc = error_set(e, ERROR_INPUT, "%s: write one line of plain text, at most 200 letters",
                       v->label);
    else if (choice.text == NULL)
        coupon_set_category(c, v->key, text);
    else
        set_choice(c, v, &choice);
    free(list);
    return rc;
}

/* A user's own unit may stand behind the number; the parser knows nothing of it. */
static void cut_own_unit(const struct variable *v, char *text)
{
    size_t length = strlen(text), unit = v->unit == NULL ? 0 : strlen(v->unit);

    if (unit > 0 && unit < length && strcasecmp(text + length - unit, v->unit) == 0)
        text[length - unit] = '\0';
}

/* What a text was read as. */
struct typed {
    struct measure m; /* in the base unit */
    bool bare;        /* no unit was written: it may have been meant in another */
    char entry[ENTRY_SIZE];
};

static int read_as(const struct variable *v, const char *text, const struct quantity_form *as,
                   struct typed *out, struct error *e)
{
    struct quantity q;
    char shown[QUOTE_SIZE];

    out->bare = false;
    if (v->role == ROLE_RESULT)
        return measure_parse(text, as, &out->m, out->entry, e);
    if (quantity_parse_as(text, as, &q, e) != 0)
        return measure_parse(text, as, &out->m, NULL, NULL) != 0
                   ? -1
                   : error_set(e, ERROR_INPUT,
                               "'%s' is a limit, which only a result can be; write one value",
                               quote_text(shown, text));
    out->m = measure_exact(q.value);
    out->bare = q.bare;
    memcpy(out->entry, q.entry, ENTRY_SIZE);
    return 0;
}

/* The user's own variable in a unit the table knows: a bare number is in that unit, another unit of
 * the dimension is converted. */
static int read_own(const struct variable *v, const char *text, const struct unit *own,
                    const struct intake *in, struct typed *out)
{
    const struct quantity_form plain = {DIM_NUMBER, in->units, NULL};
    const struct quantity_form with_unit = {own->dimension, in->units, in->bare};
    bool is_plain = in->bare == NULL && read_as(v, text, &plain, out, NULL) == 0;

    if (!is_plain && read_as(v, text, &with_unit, out, in->error) != 0)
        return -1;
    if (!is_plain && measure_known(out->m)) {
        out->m.low = unit_from_base(own, out->m.low);
        out->m.high = unit_from_base(own, out->m.high);
    }
    out->bare = false;
    return 0;
}

static int set_number(struct coupon *c, const struct variable *v, char *text, struct intake *in)
{
    const struct unit *own = variable_own_unit(v);
    const struct quantity_form as = {v->dimension, in->units, in->bare};
    struct typed typed;
    int rc;

    cut_own_unit(v, text);
    rc =
        own != NULL ? read_own(v, text, own, in, &typed) : read_as(v, text, &as, &typed, in->error);
    if (rc != 0)
        return error_where(in->error, "%s", v->label);
    if (intake_judge(in, v, typed.m, typed.bare) != 0)
        return -1;
    if (!intake_asks(in))
        coupon_set_number(c, v->key, typed.m, typed.entry);
    return 0;
}

static int refuse_derived(const struct variable *v, struct error *e)
{
    struct text sources = {0};

    for (size_t i = 0; v->from[i] != NULL; i++)
        text_addf(&sources, "%s%s", i == 0 ? "" : ", ", v->from[i]);
    error_set(e, ERROR_INPUT, "%s is worked out, not entered; enter %s", v->label,
              text_str(&sources));
    text_free(&sources);
    return -1;
}

int coupon_set_from_text(struct coupon *c, const struct variable *v, const char *text,
                         struct intake *in)
{
    char *trimmed = text_trim(mem_copy(text));
    int rc = 0;

    in->question[0] = '\0';
    if (v->group == GROUP_DERIVED)
        rc = refuse_derived(v, in->error);
    else if (*trimmed == '\0')
        coupon_unset(c, v->key);
    else if (v->kind == VARIABLE_CATEGORY)
        rc = set_category(c, v, trimmed, in->error);
    else
        rc = set_number(c, v, trimmed, in);
    free(trimmed);
    return rc;
}
