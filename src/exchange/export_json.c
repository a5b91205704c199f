/* Coupons with everything that is known of them, as JSON. */
#include "exchange/export.h"

#include <stdio.h>
#include <string.h>

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

static void put_passes(struct json *to, const struct coupon *c)
{
    struct json *passes = json_put_array(to, "passes");

    for (size_t i = 0; i < c->pass_count; i++) {
        const struct pass *p = &c->passes[i];
        struct json *row = json_add_object(passes);

        json_put_whole(row, "number", p->number);
        if (p->side == 0)
            json_put_null(row, "side");
        else
            json_put_whole(row, "side", p->side);
        json_put_number(row, "arc_s", p->arc_s);
        json_put_number(row, "length_mm", p->length_mm);
        json_put_number(row, "volts", p->volts);
        json_put_number(row, "amps", p->amps);
        json_put_number(row, "feed_mm_per_min", p->feed_mm_per_min);
        json_put_number(row, "start_c", p->start_c);
        json_put_number(row, "pause_s", p->pause_s);
    }
}

static void put_bend(struct json *to, const struct bend *b)
{
    struct json *bend = json_put_object(to, "bend");

    json_put_text(bend, "end", bend_end_code(b->end));
    json_put_text(bend, "direction", bend_direction_code(b->direction));
    json_put_number(bend, "before_deg", b->before_deg);
    json_put_number(bend, "after_deg", b->after_deg);
    json_put_number(bend, "before_gap_mm", b->before_gap_mm);
    json_put_number(bend, "after_gap_mm", b->after_gap_mm);
    json_put_number(bend, "leg_mm", b->leg_mm);
    json_put_number(bend, "former_mm", b->former_mm);
    json_put_number(bend, "inside_radius_mm", b->inside_radius_mm);
    json_put_number(bend, "first_crack_deg", b->first_crack_deg);
    json_put_number(bend, "load_n", b->load_n);
    json_put_number(bend, "lever_mm", b->lever_mm);
}

static void put_face(struct json *to, const struct coupon *c)
{
    struct json *face = json_put_object(to, "face"), *flaws;

    json_put_bool(face, "read", c->face_read);
    json_put_number(face, "bead_mm", c->bead_mm);
    flaws = json_put_array(face, "flaws");
    for (size_t i = 0; i < c->flaw_count; i++) {
        const struct flaw_kind *kind = flaw_kind_find(c->flaws[i].iso6520);
        struct json *row = json_add_object(flaws);

        json_put_number(row, "from_mm", c->flaws[i].from_mm);
        json_put_number(row, "to_mm", c->flaws[i].to_mm);
        json_put_whole(row, "iso6520", c->flaws[i].iso6520);
        json_put_text(row, "name", kind == NULL ? NULL : kind->name);
        json_put_text(row, "note", c->flaws[i].note);
    }
}

static void put_photos(struct json *to, const struct coupon *c)
{
    struct json *photos = json_put_array(to, "photos");

    for (size_t i = 0; i < c->photo_count; i++) {
        struct json *row = json_add_object(photos);

        json_put_text(row, "path", c->photos[i].path);
        json_put_text(row, "sha256", c->photos[i].sha256);
        json_put_text(row, "note", c->photos[i].note);
    }
}

void export_coupon_json(struct json *array, const struct coupon *c,
                        const struct variable_list *variables)
{
    struct json *to = json_add_object(array);

    json_put_text(to, "id", c->id[0] == '\0' ? NULL : c->id);
    json_put_text(to, "trial", c->trial[0] == '\0' ? NULL : c->trial);
    json_put_text(to, "mark", c->mark);
    put_instant(to, "when", c->when);
    json_put_whole(to, "sequence", c->sequence);
    json_put_text(to, "who", c->who);
    json_put_text(to, "note", c->note);
    json_put_text(to, "struck", c->struck_why);
    put_values(to, c, variables);
    put_passes(to, c);
    put_bend(to, &c->bend);
    put_face(to, c);
    put_photos(to, c);
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

static bool used(const struct coupon_list *coupons, const char *key)
{
    for (size_t i = 0; i < coupons->count; i++)
        if (coupon_value(&coupons->items[i], key) != NULL)
            return true;
    return false;
}

/* Those some coupon has a value for, and all of the user's own. */
static void put_variables(struct json *root, const struct coupon_list *coupons,
                          const struct variable_list *variables)
{
    struct json *array = json_put_array(root, "variables");

    for (size_t i = 0; i < variables->count; i++) {
        const struct variable *v = &variables->items[i];
        struct json *row;

        if (!v->own && !used(coupons, v->key))
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
