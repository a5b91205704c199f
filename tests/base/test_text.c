#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

START_TEST(numbers_read_alike_with_point_and_comma)
{
    const char *end;
    double v;

    ck_assert(text_number("0,9mm", &end, &v));
    ck_assert_double_eq(v, 0.9);
    ck_assert_str_eq(end, "mm");
    ck_assert(text_number(".045", &end, &v));
    ck_assert_double_eq(v, 0.045);
    ck_assert(text_number("1e3", &end, &v));
    ck_assert_double_eq(v, 1000);
    ck_assert(text_number("12,", &end, &v));
    ck_assert_str_eq(end, ",");
    ck_assert(!text_number("mm", &end, &v));
    ck_assert(!text_number("1e999", &end, &v));
    ck_assert(
        text_number("000000000000000000000000000000000000000000000000000000000000007", &end, &v));
    ck_assert_double_eq(v, 7);
    ck_assert_int_eq(*end, '\0'); /* 63 bytes; 64 are too many */
    ck_assert(
        !text_number("0000000000000000000000000000000000000000000000000000000000000007", &end, &v));
    ck_assert(text_number("-.5E-1x", &end, &v));
    ck_assert_double_eq(v, -0.05);
    ck_assert_str_eq(end, "x");
    ck_assert(text_number("3.e", &end, &v));
    ck_assert_str_eq(end, "e");
    ck_assert(text_number("-5..-3", &end, &v));
    ck_assert_double_eq(v, -5);
    ck_assert_str_eq(end, "..-3");
    ck_assert(text_number("1.5,5", &end, &v));
    ck_assert_str_eq(end, ",5");
    ck_assert(!text_number("", &end, &v) && !text_number("-", &end, &v));
    ck_assert(!text_number(".", &end, &v) && !text_number(",", &end, &v));
    /* More digits than a number can have once kept the reader busy for ever. */
    ck_assert(!text_number("1234567890123456789012345678901234567890123456789012345678901234567890",
                           &end, &v));
}
END_TEST

START_TEST(numbers_are_written_shortest)
{
    char out[40];

    text_from_number(out, sizeof out, 0.1);
    ck_assert_str_eq(out, "0.1");
    text_from_number(out, sizeof out, -5000);
    ck_assert_str_eq(out, "-5000");
    text_from_number(out, sizeof out, 1e300);
    ck_assert_str_eq(out, "1e+300");
    text_from_number(out, sizeof out, 1.0 / 3);
    ck_assert_double_eq(strtod(out, NULL), 1.0 / 3);
    text_from_rounded(out, sizeof out, -0.001, 2);
    ck_assert_str_eq(out, "0");
    text_from_rounded(out, sizeof out, 3.50, 2);
    ck_assert_str_eq(out, "3.5");
}
END_TEST

/* Short numbers have a way of their own, which must be that of the C library. */
START_TEST(short_numbers_are_the_same_as_long_ones)
{
    unsigned seed = test_seed(7);
    char text[48], out[48], best[48];

    srand(seed);
    for (int i = 0; i < 20000; i++) {
        int decimals = rand() % 7;
        double value = (rand() % 2 ? 1 : -1) * (rand() % 100000000) / pow(10, rand() % 9), read;
        const char *end;

        snprintf(text, sizeof text, "%.*f", decimals, value);
        ck_assert(text_number(text, &end, &read) && *end == '\0');
        ck_assert_msg(read == strtod(text, NULL), "%s", text);
        for (int digits = 1; digits <= 17; digits++) {
            snprintf(best, sizeof best, "%.*g", digits, read);
            if (strtod(best, NULL) == read && strstr(best, "e+") == NULL)
                break;
        }
        text_from_number(out, sizeof out, read);
        ck_assert_str_eq(out, best);
    }
    text_from_number(out, sizeof out, 99999999999.9999);
    ck_assert_str_eq(out, "99999999999.9999");
    text_from_number(out, sizeof out, -0.0);
    ck_assert_str_eq(out, "-0");
    ck_assert(text_number("-0,50", NULL, &(double){0}));
}
END_TEST

START_TEST(figures_that_count)
{
    static const struct {
        double value;
        const char *shown;
    } cases[] = {
        {12500, "12500"},     {12345.6, "12346"},      {276.94, "276.9"}, {100000, "100000"},
        {3.175, "3.175"},     {0.01234567, "0.01235"}, {0, "0"},          {-0.5, "-0.5"},
        {9999.96, "10000"},   {1e20, "1e+20"},         {1e15, "1e+15"},   {1e-9, "0.000000001"},
        {2.5e-12, "2.5e-12"},
    };
    char out[48];

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        text_from_figures(out, sizeof out, cases[i].value, 4);
        ck_assert_str_eq(out, cases[i].shown);
    }
}
END_TEST

START_TEST(width_counts_cells_not_bytes)
{
    ck_assert_int_eq(text_width("120 °C"), 6);
    ck_assert_int_eq(text_width("\xff!"), 2);
    ck_assert_uint_eq(text_fit("°°°", 2), 4);
    ck_assert(text_valid("blåst"));
    ck_assert(!text_valid("\xc0\xaf"));
    ck_assert(!text_valid("a\033[2J"));
}
END_TEST

START_TEST(a_growing_string_is_never_null)
{
    struct text t = {0};
    char *taken;

    ck_assert_str_eq(text_str(&t), "");
    text_add(&t, "");
    text_add_part(&t, "weld pool", 4);
    text_addf(&t, " %d %s", 7, "mm");
    ck_assert_str_eq(text_str(&t), "weld 7 mm");
    ck_assert_uint_eq(t.length, 9);
    for (int i = 0; i < 1000; i++)
        text_addf(&t, "%d,", i);
    taken = text_steal(&t);
    ck_assert_uint_eq(t.length, 0);
    ck_assert_uint_eq(strlen(taken), 9 + 10 * 2 + 90 * 3 + 900 * 4);
    free(taken);
    taken = text_steal(&t);
    ck_assert_str_eq(taken, "");
    free(taken);
    text_free(&t);
}
END_TEST

static const struct {
    const char *before, *after;
} trims[] = {
    {"  a b \t\n", "a b"},  {"", ""},       {" \n ", ""},
    {"\u00a0x\u00a0", "x"}, {"\u00a0", ""}, {"x\xc2", "x\xc2"},
};

START_TEST(white_space_is_cut_off_both_ends)
{
    for (size_t i = 0; i < sizeof trims / sizeof *trims; i++) {
        char work[16];

        snprintf(work, sizeof work, "%s", trims[i].before);
        ck_assert_str_eq(text_trim(work), trims[i].after);
    }
    ck_assert(text_same("PB", "pb") && text_same(NULL, "") && !text_same("a", NULL));
    ck_assert(text_starts("heat input", "heat") && !text_starts("he", "heat"));
}
END_TEST

/* Overlong forms, surrogates and stray bytes are those that RFC 3629 forbids. */
static const struct {
    const char *bytes;
    size_t good;
} utf8[] = {
    {"abc", 3},
    {"\xc0\xaf", 0},
    {"a\xe0\x80\xaf", 1},
    {"\xed\xa0\x80", 0},
    {"\xf4\x90\x80\x80", 0},
    {"\xf0\x9f\x94\xa5", 4},
    {"\xe2\x82", 0},
    {"ab\x80", 2},
    {"\xff", 0},
    {"a\nb\tc", 5},
    {"a\rb", 1},
    {"a\x7f", 1},
    {"\xc2\x85", 0},
    {"", 0},
};

START_TEST(only_well_formed_text_is_valid)
{
    for (size_t i = 0; i < sizeof utf8 / sizeof *utf8; i++) {
        ck_assert_msg(text_valid_length(utf8[i].bytes) == utf8[i].good, "row %zu", i);
        ck_assert_int_eq(text_valid(utf8[i].bytes), utf8[i].bytes[utf8[i].good] == '\0');
    }
}
END_TEST

/* A terminal is steered by what is below a blank, by U+007F to U+009F and, as some take them, by
 * the bytes 0x80 to 0x9f. */
static const struct {
    const char *stored, *line, *lines;
} shown[] = {
    {"", "", ""},
    {"blåst 10°", "blåst 10°", "blåst 10°"},
    {"a\033[2J\a\x7f", "a\uFFFD[2J\uFFFD\uFFFD", "a\uFFFD[2J\uFFFD\uFFFD"},
    {"a\xc2\x9b"
     "2J",
     "a\uFFFD2J", "a\uFFFD2J"},
    {"\x9b\xff\xc3", "\uFFFD\uFFFD\uFFFD", "\uFFFD\uFFFD\uFFFD"},
    {"a\nb\tc\r\nd\re", "a b c d e", "a\nb\tc\nd\ne"},
};

START_TEST(nothing_shown_steers_a_terminal)
{
    char *line = text_shown(shown[_i].stored, false), *lines = text_shown(shown[_i].stored, true);

    ck_assert_str_eq(line, shown[_i].line);
    ck_assert_str_eq(lines, shown[_i].lines);
    free(line);
    free(lines);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/text");
    TCase *t = tcase_create("text");

    tcase_add_test(t, numbers_read_alike_with_point_and_comma);
    tcase_add_test(t, numbers_are_written_shortest);
    tcase_add_test(t, short_numbers_are_the_same_as_long_ones);
    tcase_add_test(t, figures_that_count);
    tcase_add_test(t, width_counts_cells_not_bytes);
    tcase_add_test(t, a_growing_string_is_never_null);
    tcase_add_test(t, white_space_is_cut_off_both_ends);
    tcase_add_test(t, only_well_formed_text_is_valid);
    tcase_add_loop_test(t, nothing_shown_steers_a_terminal, 0, sizeof shown / sizeof *shown);
    suite_add_tcase(s, t);
    return s;
}
