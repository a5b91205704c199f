#include "exchange/json.h"

#include <jansson.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"

/* A `struct json` is jansson's own node under another name; it has no members of ours. */
static json_t *node(struct json *j)
{
    return (json_t *)j;
}

static json_t *must(json_t *made)
{
    return made != NULL ? made : mem_resize(NULL, SIZE_MAX, 2); /* ends the program */
}

static json_t *number(double value)
{
    return must(isfinite(value) ? json_real(value) : json_null());
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
        good = is_high_control(s) ? 2 : (unsigned char)*s < 0x80 ? 1 : 0;
        if (good > 0)
            text_add_part(&clean, s, good); /* a control character, which JSON can carry */
        else
            text_add(&clean, "\xef\xbf\xbd");
        s += good > 0 ? good : 1;
    }
    made = json_string(text_str(&clean));
    text_free(&clean);
    return must(made);
}

static json_t *string(const char *value)
{
    json_t *made;

    if (value == NULL)
        return must(json_null());
    made = json_string(value);
    return made != NULL ? made : repaired(value);
}

struct json *json_new_object(void)
{
    return (struct json *)must(json_object());
}

void json_drop(struct json *root)
{
    json_decref(node(root));
}

/* U+007F to U+009F are escaped here: jansson writes them as they are. */
char *json_write(const struct json *root)
{
    char *dumped = json_dumps((const json_t *)root, JSON_INDENT(2) | JSON_REAL_PRECISION(17));
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
    return text_take(&out);
}

static void put(struct json *object, const char *key, json_t *value)
{
    json_object_set_new(node(object), key, value);
}

void json_put_number(struct json *object, const char *key, double value)
{
    put(object, key, number(value));
}

void json_put_whole(struct json *object, const char *key, long long value)
{
    put(object, key, must(json_integer(value)));
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
    json_t *made = must(json_object());

    put(object, key, made);
    return (struct json *)made;
}

struct json *json_put_array(struct json *object, const char *key)
{
    json_t *made = must(json_array());

    put(object, key, made);
    return (struct json *)made;
}

void json_add_number(struct json *array, double value)
{
    json_array_append_new(node(array), number(value));
}

void json_add_whole(struct json *array, long long value)
{
    json_array_append_new(node(array), must(json_integer(value)));
}

void json_add_text(struct json *array, const char *value)
{
    json_array_append_new(node(array), string(value));
}

struct json *json_add_object(struct json *array)
{
    json_t *made = must(json_object());

    json_array_append_new(node(array), made);
    return (struct json *)made;
}

struct json *json_add_array(struct json *array)
{
    json_t *made = must(json_array());

    json_array_append_new(node(array), made);
    return (struct json *)made;
}
