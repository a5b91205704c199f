#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "exchange/json.h"

START_TEST(a_tree_is_written_in_order)
{
    struct json *root = json_new_object(), *rows, *inner;
    char *text;

    json_put_whole(root, "schema", 1);
    json_put_text(root, "zeta", "first");
    json_put_bool(root, "alpha", true);
    json_put_null(root, "none");
    json_put_text(root, "nothing", NULL);
    rows = json_put_array(root, "rows");
    json_put_number(json_add_object(rows), "angle_deg", 135);
    inner = json_add_array(rows);
    json_add_text(inner, "°");
    json_put_object(root, "empty");
    text = json_write(root);
    ck_assert_str_eq(text, "{\n"
                           "  \"schema\": 1,\n"
                           "  \"zeta\": \"first\",\n"
                           "  \"alpha\": true,\n"
                           "  \"none\": null,\n"
                           "  \"nothing\": null,\n"
                           "  \"rows\": [\n"
                           "    {\n"
                           "      \"angle_deg\": 135.0\n"
                           "    },\n"
                           "    [\n"
                           "      \"°\"\n"
                           "    ]\n"
                           "  ],\n"
                           "  \"empty\": {}\n"
                           "}\n");
    free(text);
    json_drop(root);
    json_drop(NULL);
}
END_TEST

static char *one_number(double value)
{
    struct json *root = json_new_object();
    char *text, *number;

    json_put_number(root, "x", value);
    text = json_write(root);
    number = strdup(strstr(text, ": ") + 2);
    *strpbrk(number, "\n}") = '\0';
    free(text);
    json_drop(root);
    return number;
}

START_TEST(numbers_keep_every_digit)
{
    static const double values[] = {1.0 / 3, 7.9375, 1e300, -2.2250738585072014e-308, 0.1, 0};

    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        char *number = one_number(values[i]);

        ck_assert_double_eq(strtod(number, NULL), values[i]);
        free(number);
    }
}
END_TEST

START_TEST(what_json_cannot_say_is_null)
{
    static const double values[] = {NAN, INFINITY, -INFINITY};

    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        char *number = one_number(values[i]);

        ck_assert_str_eq(number, "null");
        free(number);
    }
}
END_TEST

START_TEST(bad_bytes_spoil_only_themselves)
{
    struct json *root = json_new_object();
    char *text;

    json_put_text(root, "note",
                  "a\xff"
                  "b\xc3");
    json_put_text(root, "lone", "x\x80y\xff");
    json_put_text(root, "mixed", "\xff\xc2\x85z\xc2\xa0");
    json_put_text(root, "bell", "a\ab\xff");
    json_put_text(root, "both", "\xc2\x9b 31m\xff\xc2\xa0");
    json_put_text(root, "high", "\x7f\xc2\x80\xc2\x9f\xc2\xa0é");
    text = json_write(root);
    ck_assert_ptr_nonnull(strstr(text, "\"a\xef\xbf\xbd"
                                       "b\xef\xbf\xbd\""));
    ck_assert_ptr_nonnull(strstr(text, "\"a\\u0007b\xef\xbf\xbd\""));
    ck_assert_ptr_nonnull(strstr(text, "\"\\u009b 31m\xef\xbf\xbd\xc2\xa0\""));
    ck_assert_ptr_nonnull(strstr(text, "\"\\u007f\\u0080\\u009f\xc2\xa0é\""));
    ck_assert_ptr_nonnull(strstr(text, "\"x\xef\xbf\xbdy\xef\xbf\xbd\""));
    ck_assert_ptr_nonnull(strstr(text, "\"\xef\xbf\xbd\\u0085z\xc2\xa0\""));
    free(text);
    json_drop(root);
}
END_TEST

static size_t held; /* blocks of jansson's */

static void *hold(size_t size)
{
    held++;
    return malloc(size);
}

static void let_go(void *block)
{
    held -= block != NULL;
    free(block);
}

START_TEST(a_dropped_tree_is_released)
{
    struct json *root;

    json_set_alloc_funcs(hold, let_go);
    root = json_new_object();
    json_put_number(json_add_object(json_put_array(root, "rows")), "angle_deg", 135);
    json_put_text(root, "note", "a\xff");
    ck_assert_uint_gt(held, 0);
    json_drop(root);
    ck_assert_uint_eq(held, 0);
    json_set_alloc_funcs(malloc, free);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("exchange/json");
    TCase *t = tcase_create("json");

    tcase_add_test(t, a_tree_is_written_in_order);
    tcase_add_test(t, numbers_keep_every_digit);
    tcase_add_test(t, what_json_cannot_say_is_null);
    tcase_add_test(t, bad_bytes_spoil_only_themselves);
    tcase_add_test(t, a_dropped_tree_is_released);
    suite_add_tcase(s, t);
    return s;
}
