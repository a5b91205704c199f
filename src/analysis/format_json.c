#include "analysis/format_json.h"

#include <math.h>

#include "analysis/format.h"
#include "page/cautions.h"

struct json *format_json_start(const struct trial_data *data)
{
    const struct unit *unit = unit_shown(data->result->dimension, data->units);
    struct json *root = json_new_object(), *result;

    json_put_whole(root, "schema", 1);
    json_put_text(root, "trial", data->trial.name);
    result = json_put_object(root, "result");
    json_put_text(result, "key", data->result->key);
    json_put_text(result, "unit",
                  unit != NULL                 ? unit->key
                  : data->result->unit != NULL ? data->result->unit
                                               : "");
    return root;
}

char *format_json_finish(struct json *root)
{
    char *text;

    json_put_text(root, "caution", caution_scope);
    text = json_write(root);
    json_drop(root);
    return text;
}

void format_json_level(struct json *object, const char *key, const struct frame *f, size_t column,
                       double value)
{
    const struct column *c = &f->columns[column];

    if (!c->category)
        json_put_number(object, key, format_shown(c, value));
    else
        json_put_text(object, key, isnan(value) ? NULL : c->levels[(size_t)value]);
}

void format_json_result(struct json *object, const char *key, const struct frame *f, double value)
{
    json_put_number(object, key, format_shown_result(f, value));
}

void format_json_change(struct json *object, const char *key, const struct frame *f, double change)
{
    json_put_number(object, key, format_shown_change(f, change));
}

void format_json_effect(struct json *object, const struct frame *f, double effect, double low,
                        double high)
{
    format_json_change(object, "effect", f, effect);
    format_json_change(object, "low", f, low);
    format_json_change(object, "high", f, high);
}

void format_json_keys(struct json *array, const struct frame *f, const size_t *columns,
                      size_t count)
{
    for (size_t i = 0; i < count; i++)
        json_add_text(array, f->columns[columns[i]].key);
}

void format_json_marks(struct json *array, const struct frame *f, const size_t *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        json_add_text(array, f->marks[rows[i]]);
}
