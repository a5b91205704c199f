/*
 * An answer as one JSON object: every figure under its own key at the top, then what each rests on.
 */
#include "calc/json.h"

#include "exchange/json.h"
#include "page/cautions.h"

static void put_inputs(struct json *root, const struct calc_answer *a)
{
    struct json *inputs = json_put_array(root, "inputs");

    for (size_t i = 0; i < a->input_count; i++) {
        const struct calc_input *x = &a->inputs[i];
        struct json *row = json_add_object(inputs);

        json_put_text(row, "key", x->key);
        json_put_number(row, "value", x->value);
        json_put_text(row, "unit", x->unit);
        json_put_number(row, "uncertainty", x->error);
        json_put_text(row, "text", x->text);
        json_put_bool(row, "given", x->given);
    }
}

static void put_figures(struct json *root, const struct calc_answer *a)
{
    struct json *figures = json_put_array(root, "figures");

    for (size_t i = 0; i < a->figure_count; i++) {
        const struct calc_figure *f = &a->figures[i];
        struct json *row = json_add_object(figures);

        json_put_text(row, "key", f->key);
        json_put_text(row, "label", f->label);
        json_put_number(row, "value", f->value);
        json_put_text(row, "unit", f->unit);
        json_put_number(row, "uncertainty", f->error);
        json_put_text(row, "shown", f->shown);
        json_put_bool(row, "outside_range", f->outside);
        json_put_text(row, "why", f->why);
        json_put_text(row, "formula", f->formula);
        json_put_text(row, "source", f->source);
    }
}

char *calc_json(const struct calc_answer *a)
{
    struct json *root = json_new_object(), *notes;
    bool outside = false;
    char *text;

    json_put_whole(root, "schema", 1);
    json_put_text(root, "kind", a->kind->name);
    for (size_t i = 0; i < a->figure_count; i++) {
        json_put_number(root, a->figures[i].key, a->figures[i].value);
        outside = outside || a->figures[i].outside;
    }
    for (size_t i = 0; i < a->word_count; i++)
        json_put_text(root, a->words[i].key, a->words[i].text);
    json_put_bool(root, "outside_range", outside);
    json_put_text(root, "range", a->kind->range);
    put_figures(root, a);
    put_inputs(root, a);
    notes = json_put_array(root, "notes");
    for (size_t i = 0; i < a->note_count; i++)
        json_add_text(notes, a->notes[i]);
    if (a->kind->permission)
        json_put_text(root, "caution", caution_scope);
    text = json_write(root);
    json_drop(root);
    return text;
}
