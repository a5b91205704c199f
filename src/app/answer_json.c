#include "app/answer_json.h"

#include <math.h>

#include "app/cautions.h"

struct json *answer_json_start(const struct subject *x)
{
    const struct unit *unit = unit_shown(x->result->dimension, x->units);
    struct json *root = json_new_object(), *result;

    json_put_whole(root, "schema", 1);
    json_put_text(root, "trial", x->trial.name);
    result = json_put_object(root, "result");
    json_put_text(result, "key", x->result->key);
    json_put_text(result, "unit",
                  unit != NULL      ? unit->key
                  : x->result->unit ? x->result->unit
                                    : "");
    return root;
}

char *answer_json_finish(struct json *root)
{
    char *text;

    json_put_text(root, "caution", caution_scope);
    text = json_write(root);
    json_drop(root);
    return text;
}

void answer_put_level(struct json *object, const char *key, const struct frame *f, size_t column,
                      double value)
{
    const struct column *c = &f->columns[column];

    if (!c->category)
        json_put_number(object, key, words_shown(c, value));
    else if (isnan(value))
        json_put_null(object, key);
    else
        json_put_text(object, key,
                      (size_t)value < c->level_count ? c->levels[(size_t)value] : "another");
}

void answer_put_result(struct json *object, const char *key, const struct frame *f, double value)
{
    json_put_number(object, key, words_shown_result(f, value));
}

void answer_put_change(struct json *object, const char *key, const struct frame *f, double change)
{
    json_put_number(object, key, words_shown_change(f, change));
}

void answer_put_keys(struct json *object, const char *key, const struct frame *f,
                     const size_t *columns, size_t count)
{
    struct json *array = json_put_array(object, key);

    for (size_t i = 0; i < count; i++)
        json_add_text(array, f->columns[columns[i]].key);
}

void answer_put_marks(struct json *object, const char *key, const struct frame *f,
                      const size_t *rows, size_t count)
{
    struct json *array = json_put_array(object, key);

    for (size_t i = 0; i < count; i++)
        json_add_text(array, f->marks[rows[i]]);
}
