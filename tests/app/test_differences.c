#include "run.h"

#include <string.h>

#include "app/tasks.h"
#include "base/mem.h"

static struct session s;
static struct coupon last, now;

static void setup(void)
{
    variable_list_init(&s.variables);
    coupon_init(&last);
    last.mark = mem_copy("07");
    coupon_set_number(&last, "amps", measure_exact(110), NULL);
    coupon_set_number(&last, "thickness", measure_exact(3), NULL);
    coupon_set_category(&last, "sides", "one");
    coupon_copy(&now, &last);
}

static void teardown(void)
{
    coupon_free(&last);
    coupon_free(&now);
    variable_list_free(&s.variables);
}

static int differ(char *words, size_t size)
{
    return coupon_differences(&s, &now, &last, words, size, NULL, 0);
}

START_TEST(a_copy_differs_in_nothing)
{
    char words[200];

    ck_assert_int_eq(differ(words, sizeof words), 0);
    ck_assert_str_eq(words, "nothing differs from 07");
}
END_TEST

/* Amps within 10 % are the same setting: AWS D1.1, limits of essential variables [from memory]. */
START_TEST(a_reading_may_wobble)
{
    char words[200];

    coupon_set_number(&now, "amps", measure_exact(120), NULL);
    ck_assert_int_eq(differ(words, sizeof words), 0);
    coupon_set_number(&now, "amps", measure_exact(125), NULL);
    ck_assert_int_eq(differ(words, sizeof words), 1);
    ck_assert_str_eq(words, "one thing differs from 07: amps");
}
END_TEST

START_TEST(two_changes_are_named_in_words_and_keys)
{
    char words[200], keys[100];

    coupon_set_number(&now, "thickness", measure_exact(5), NULL);
    coupon_set_category(&now, "sides", "both");
    ck_assert_int_eq(coupon_differences(&s, &now, &last, words, sizeof words, keys, sizeof keys),
                     2);
    ck_assert_str_eq(words, "two things differ from 07: thickness and sides welded");
    ck_assert_str_eq(keys, "thickness sides");
}
END_TEST

START_TEST(a_value_that_went_missing_is_a_change)
{
    char words[200];

    coupon_unset(&now, "sides");
    ck_assert_int_eq(differ(words, sizeof words), 1);
}
END_TEST

START_TEST(what_follows_from_passes_is_no_change_where_there_are_none)
{
    char words[200];

    coupon_add_pass(&now)->arc_s = 12;
    ck_assert_int_eq(differ(words, sizeof words), 0);
    coupon_set_number(&now, "passes", measure_exact(2), NULL);
    ck_assert_int_eq(differ(words, sizeof words), 1);
}
END_TEST

static struct page questions(void)
{
    struct page p = {0};

    coupon_questions(&s, &now, NULL, &p);
    return p;
}

/* AWS A5.20: the GS classes are for a single pass [from memory]. */
START_TEST(a_single_pass_wire_in_two_passes_is_asked_about)
{
    struct page p;

    coupon_set_category(&now, "wire_class", "E71T-GS");
    coupon_set_number(&now, "passes", measure_exact(1), NULL);
    p = questions();
    ck_assert_uint_eq(p.count, 0);
    page_free(&p);
    coupon_set_number(&now, "passes", measure_exact(2), NULL);
    p = questions();
    ck_assert_uint_eq(p.count, 1);
    ck_assert(strstr(p.blocks[0].text, "single pass") != NULL);
    page_free(&p);
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("app/differences");
    TCase *t = tcase_create("differences");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, a_copy_differs_in_nothing);
    tcase_add_test(t, a_reading_may_wobble);
    tcase_add_test(t, two_changes_are_named_in_words_and_keys);
    tcase_add_test(t, a_value_that_went_missing_is_a_change);
    tcase_add_test(t, what_follows_from_passes_is_no_change_where_there_are_none);
    tcase_add_test(t, a_single_pass_wire_in_two_passes_is_asked_about);
    suite_add_tcase(su, t);
    return su;
}
