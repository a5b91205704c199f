#include "exchange/json.h"

#include <assert.h>
#include <ctype.h>
#include <jansson.h>
#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "base/text.h"

/* A `struct json` is a node of jansson under another name; it has no members. */
static json_t *node(struct json *j)
{
    return (json_t *)j;
}

static struct json *must(json_t *made)
{
    if (made == NULL)
        mem_ended();
    return (struct json *)made;
}

/* U+0080 to U+009F, which steer a terminal like those below U+0020. */
static bool is_high_control(const char *s)
{
    return s[0] == '\xc2' && (s[1] & 0xe0) == 0x80;
}

/* Bytes that are not UTF-8 are replaced, so that one bad note cannot spoil a whole file. */
static json_t *repaired(const char *value)
{
    struct text clean = {0};
    json_t *made;

    for (const char *s = value; *s != '\0';) {
        size_t good = text_valid_length(s);

        text_add_part(&clean, s, good);
        s += good;
        if (*s == '\0')
            break;
        good = is_high_control(s) ? 2 : isascii((unsigned char)*s) ? 1 : 0;
        text_add_part(&clean, s, good); /* a control character, which JSON can carry */
        if (good == 0)
            text_add(&clean, "\xef\xbf\xbd");
        s += good + (good == 0);
    }
    made = json_string(text_str(&clean));
    text_free(&clean);
    return made;
}

static json_t *string(const char *value)
{
    json_t *made;

    if (value == NULL)
        return json_null();
    made = json_string(value);
    return made != NULL ? made : repaired(value);
}

struct json *json_new_object(void)
{
    return must(json_object());
}

void json_drop(struct json *root)
{
    json_decref(node(root));
}

static char *dump(const json_t *root)
{
    char *text = json_dumps(root, JSON_INDENT(2) | JSON_REAL_PRECISION(17));

    if (text == NULL)
        mem_ended();
    return text;
}

/* U+007F to U+009F are escaped here: jansson writes them as they are. */
char *json_write(const struct json *root)
{
    char *dumped = dump((const json_t *)root);
    struct text out = {0};

    for (const char *s = dumped; *s != '\0'; s++) {
        bool high = is_high_control(s);

        if (high || *s == 0x7f)
            text_addf(&out, "\\u%04x", (unsigned char)s[high]);
        else
            text_add_part(&out, s, 1);
        s += high;
    }
    text_add(&out, "\n");
    free(dumped);
    return text_steal(&out);
}

/* Puts a node made for it under `key`, or without a key behind the others of an array. */
static struct json *put(struct json *to, const char *key, json_t *made)
{
    struct json *value = must(made);

    assert(key != NULL ? json_is_object(node(to)) : json_is_array(node(to)));
    if (key != NULL)
        json_object_set_new(node(to), key, made);
    else
        json_array_append_new(node(to), made);
    return value;
}

void json_put_number(struct json *object, const char *key, double value)
{
    put(object, key, isfinite(value) ? json_real(value) : json_null());
}

void json_put_whole(struct json *object, const char *key, long long value)
{
    put(object, key, json_integer(value));
}

void json_put_text(struct json *object, const char *key, const char *value)
{
    put(object, key, string(value));
}

void json_put_bool(struct json *object, const char *key, bool value)
{
    put(object, key, json_boolean(value));
}

void json_put_null(struct json *object, const char *key)
{
    put(object, key, json_null());
}

struct json *json_put_object(struct json *object, const char *key)
{
    return put(object, key, json_object());
}

struct json *json_put_array(struct json *object, const char *key)
{
    return put(object, key, json_array());
}

void json_add_text(struct json *array, const char *value)
{
    put(array, NULL, string(value));
}

struct json *json_add_object(struct json *array)
{
    return put(array, NULL, json_object());
}

struct json *json_add_array(struct json *array)
{
    return put(array, NULL, json_array());
}
