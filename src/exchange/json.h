/*
 * Writing JSON. A tree is built from a root the caller owns; what is put into it belongs to it.
 *
 *     struct json *root = json_new_object();
 *     json_put_whole(root, "schema", 1);
 *     struct json *rows = json_put_array(root, "rows");
 *     json_put_number(json_add_object(rows), "angle_deg", 135);
 *     char *text = json_write(root);
 *     json_drop(root);
 *
 * Nothing here fails; out of memory ends the program. What is put under a key that is there already
 * replaces it. Numbers keep 17 digits; NaN and the infinities become null. Text that is NULL
 * becomes null, and bytes that are not UTF-8 become U+FFFD. Keys keep the order in which they were
 * put.
 */
#ifndef EXCHANGE_JSON_H
#define EXCHANGE_JSON_H

#include <stdbool.h>

struct json;

struct json *json_new_object(void);
void json_drop(struct json *root); /* NULL is fine */
/* Indented by two, with a line feed at the end. The caller frees it. */
char *json_write(const struct json *root);

void json_put_number(struct json *object, const char *key, double value);
void json_put_whole(struct json *object, const char *key, long long value);
void json_put_text(struct json *object, const char *key, const char *value);
void json_put_bool(struct json *object, const char *key, bool value);
void json_put_null(struct json *object, const char *key);
struct json *json_put_object(struct json *object, const char *key);
struct json *json_put_array(struct json *object, const char *key);

void json_add_text(struct json *array, const char *value);
struct json *json_add_object(struct json *array);
struct json *json_add_array(struct json *array);

#endif
