/* Coupons with everything that is known of them, as JSON. */
#include "exchange/export.h"

#include <stdio.h>
#include <string.h>

#include "model/part.h"

static void put_instant(struct json *to, const char *key, struct instant when)
{
    char text[40];

    clock_format(text, sizeof text, when);
    json_put_text(to, key, when.utc_ms == 0 ? NULL : text);
}

static const char *base_unit(const struct variable *v)
{
    const struct unit *unit = v == NULL ? NULL : unit_base(v->dimension);

    if (v != NULL && v->unit != NULL)
        return v->unit;
    return unit == NULL ? NULL : unit->key;
}

static void put_values(struct json *to, const struct coupon *c,
                       const struct variable_list *variables)
{
    struct json *values = json_put_array(to, "values");

    for (size_t i = 0; i < c->value_count; i++) {
        const struct value *value = &c->values[i];
        struct json *row = json_add_object(values);

        json_put_text(row, "variable", value->variable);
        if (value->kind == VARIABLE_CATEGORY) {
            json_put_text(row, "category", value->text);
            continue;
        }
        json_put_text(row, "unit", base_unit(variable_find(variables, value->variable)));
        json_put_text(row, "kind", measure_kind_code(value->measure.kind));
        json_put_number(row, "low", value->measure.low);
        json_put_number(row, "high", value->measure.high);
        json_put_text(row, "entry", value->text);
    }
}

static void put_row(struct json *to, const struct part_row *row, const void *base)
{
    const void *from = (const char *)base + row->offset;
    const char *key = part_json(row);

    if (row->kind == PART_NUMBER)
        json_put_number(to, key, *(const double *)from);
    else if (part_is_text(row))
        json_put_text(to, key, *(char *const *)from);
    else if (row->kind == PART_YES)
        json_put_bool(to, key, part_whole(row, base) != 0);
    else if (part_code(row, base) != NULL)
        json_put_text(to, key, part_code(row, base));
    else if (row->kind == PART_SIDE && !part_known(row, base))
        json_put_null(to, key);
    else
        json_put_whole(to, key, part_whole(row, base));
}

static void put_part(struct json *to, const struct coupon *c, enum part_id id, size_t i)
{
    const void *item = part_item(c, id, i);

    if (id == PART_PASS)
        json_put_whole(to, "number", c->passes[i].number);
    for (const struct part_row *row = part_tables[id].rows; row->key != NULL; row++) {
        put_row(to, row, item);
        if (row->kind == PART_ISO6520) {
            const struct flaw_kind *kind = flaw_kind_find(part_whole(row, item));

            json_put_text(to, "name", kind == NULL ? NULL : kind->name);
        }
    }
}

static void put_parts(struct json *array, const struct coupon *c, enum part_id id)
{
    for (size_t i = 0; i < part_count(c, id); i++)
        put_part(json_add_object(array), c, id, i);
}

void export_coupon_json(struct json *array, const struct coupon *c,
                        const struct variable_list *variables)
{
    struct json *to = json_add_object(array), *face;

    json_put_text(to, "id", c->id[0] == '\0' ? NULL : c->id);
    json_put_text(to, "trial", c->trial[0] == '\0' ? NULL : c->trial);
    json_put_text(to, "mark", c->mark);
    put_instant(to, "when", c->when);
    json_put_whole(to, "sequence", c->sequence);
    json_put_text(to, "who", c->who);
    json_put_text(to, "note", c->note);
    json_put_text(to, "struck", c->struck_why);
    put_values(to, c, variables);
    put_parts(json_put_array(to, "passes"), c, PART_PASS);
    put_part(json_put_object(to, "bend"), c, PART_BEND, 0);
    face = json_put_object(to, "face");
    put_part(face, c, PART_FACE, 0);
    put_parts(json_put_array(face, "flaws"), c, PART_FLAW);
    put_parts(json_put_array(to, "photos"), c, PART_PHOTO);
}

static void put_trial(struct json *root, const struct trial *t)
{
    struct json *to = json_put_object(root, "trial"), *sets;

    json_put_text(to, "id", t->id[0] == '\0' ? NULL : t->id);
    json_put_text(to, "name", t->name);
    json_put_text(to, "question", t->question);
    json_put_text(to, "result", t->result);
    json_put_number(to, "stop_deg", t->stop_deg);
    put_instant(to, "when", t->when);
    json_put_text(to, "note", t->note);
    sets = json_put_array(to, "sets");
    for (size_t i = 0; i < t->set_count; i++) {
        struct json *row = json_add_object(sets), *levels;

        json_put_text(row, "variable", t->sets[i].variable);
        levels = json_put_array(row, "levels");
        for (size_t j = 0; j < t->sets[i].count; j++)
            json_add_text(levels, t->sets[i].levels[j]);
    }
}

/* Those some coupon has a value for, and all of the user's own. */
static void put_variables(struct json *root, const struct coupon_list *coupons,
                          const struct variable_list *variables)
{
    struct json *array = json_put_array(root, "variables");

    for (size_t i = 0; i < variables->count; i++) {
        const struct variable *v = &variables->items[i];
        struct json *row;

        if (!v->own && !coupon_list_has(coupons, v->key))
            continue;
        row = json_add_object(array);
        json_put_text(row, "key", v->key);
        json_put_text(row, "label", v->label);
        json_put_text(row, "role", v->role == ROLE_RESULT ? "result" : "cause");
        json_put_text(row, "kind", v->kind == VARIABLE_NUMBER ? "number" : "category");
        json_put_text(row, "unit", v->kind == VARIABLE_NUMBER ? base_unit(v) : NULL);
        json_put_bool(row, "own", v->own);
    }
}

struct json *export_json(const struct trial *trial, const struct coupon_list *coupons,
                         const struct variable_list *variables, bool with_struck)
{
    struct json *root = json_new_object(), *array;

    json_put_whole(root, "schema", 1);
    if (trial == NULL)
        json_put_null(root, "trial");
    else
        put_trial(root, trial);
    put_variables(root, coupons, variables);
    array = json_put_array(root, "coupons");
    for (size_t i = 0; i < coupons->count; i++)
        if (with_struck || coupons->items[i].struck_why == NULL)
            export_coupon_json(array, &coupons->items[i], variables);
    return root;
}
