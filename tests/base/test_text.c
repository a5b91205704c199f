#include "run.h"

#include <stdlib.h>

#include "base/text.h"

START_TEST(numbers_read_alike_with_point_and_comma)
{
    const char *end;
    double v;

    ck_assert(text_number("0,9mm", &end, &v));
    ck_assert_double_eq(v, 0.9);
    ck_assert_str_eq(end, "mm");
    ck_assert(text_number(".035", &end, &v));
    ck_assert_double_eq(v, 0.035);
    ck_assert(text_number("1e3", &end, &v));
    ck_assert_double_eq(v, 1000);
    ck_assert(text_number("12,", &end, &v));
    ck_assert_str_eq(end, ",");
    ck_assert(!text_number("mm", &end, &v));
    ck_assert(!text_number("1e999", &end, &v));
}
END_TEST

START_TEST(numbers_are_written_shortest)
{
    char out[40];

    text_from_number(out, sizeof out, 0.1);
    ck_assert_str_eq(out, "0.1");
    text_from_number(out, sizeof out, 1.0 / 3);
    ck_assert_double_eq(strtod(out, NULL), 1.0 / 3);
    text_from_rounded(out, sizeof out, -0.001, 2);
    ck_assert_str_eq(out, "0");
    text_from_rounded(out, sizeof out, 3.50, 2);
    ck_assert_str_eq(out, "3.5");
}
END_TEST

START_TEST(width_counts_cells_not_bytes)
{
    ck_assert_int_eq(text_width("260 °C"), 6);
    ck_assert_int_eq(text_width("\xff!"), 2);
    ck_assert_uint_eq(text_fit("°°°", 2), 4);
    ck_assert(text_valid("blåst"));
    ck_assert(!text_valid("\xc0\xaf"));
    ck_assert(!text_valid("a\033[2J"));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/text");
    TCase *t = tcase_create("text");

    tcase_add_test(t, numbers_read_alike_with_point_and_comma);
    tcase_add_test(t, numbers_are_written_shortest);
    tcase_add_test(t, width_counts_cells_not_bytes);
    suite_add_tcase(s, t);
    return s;
}
