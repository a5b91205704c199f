#include "run.h"

#include <string.h>

#include "base/error.h"

START_TEST(an_error_says_what_and_then_where)
{
    struct error e = {0};

    ck_assert_int_eq(error_set(&e, ERROR_INPUT, "'%s' is not a length", "12 V"), -1);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_int_eq(error_where(&e, "line %d", 3), -1);
    ck_assert_int_eq(error_where(&e, "%s", "coupons.csv"), -1);
    ck_assert_str_eq(e.text, "coupons.csv: line 3: '12 V' is not a length");
    ck_assert_int_eq(e.kind, ERROR_INPUT);
}
END_TEST

START_TEST(nobody_has_to_listen)
{
    ck_assert_int_eq(error_set(NULL, ERROR_SYSTEM, "disk full"), -1);
    ck_assert_int_eq(error_where(NULL, "book"), -1);
}
END_TEST

START_TEST(long_messages_are_cut_not_spilt)
{
    struct error e = {0};
    char longer[2 * sizeof e.text];

    memset(longer, 'x', sizeof longer);
    longer[sizeof longer - 1] = '\0';
    error_set(&e, ERROR_INPUT, "%s", longer);
    ck_assert_uint_eq(strlen(e.text), sizeof e.text - 1);
    error_where(&e, "%s", longer);
    ck_assert_uint_eq(strlen(e.text), sizeof e.text - 1);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/error");
    TCase *t = tcase_create("error");

    tcase_add_test(t, an_error_says_what_and_then_where);
    tcase_add_test(t, nobody_has_to_listen);
    tcase_add_test(t, long_messages_are_cut_not_spilt);
    suite_add_tcase(s, t);
    return s;
}
