#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/coupon_questions.h"
#include "app/differences.h"
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

static void differ(size_t count, const char *sentence)
{
    struct differences d = differences_between(&s.variables, &now, &last);
    char *words = differences_sentence(&d, last.mark);

    ck_assert_uint_eq(d.count, count);
    ck_assert_str_eq(words, sentence);
    free(words);
    differences_free(&d);
}

START_TEST(a_copy_differs_in_nothing)
{
    differ(0, "nothing differs from 07");
}
END_TEST

/* Amps within 10 % are the same setting: AWS D1.1, limits of essential variables [from memory]. */
START_TEST(a_reading_may_wobble)
{
    coupon_set_number(&now, "amps", measure_exact(120), NULL);
    differ(0, "nothing differs from 07");
    coupon_set_number(&now, "amps", measure_exact(125), NULL);
    differ(1, "one thing differs from 07: amps");
}
END_TEST

START_TEST(two_changes_are_named)
{
    coupon_set_number(&now, "thickness", measure_exact(5), NULL);
    coupon_set_category(&now, "sides", "both");
    differ(2, "two things differ from 07: thickness and sides welded");
}
END_TEST

/* A key may be part of another: the second leg changed, the first did not. */
START_TEST(only_what_differs_is_among_the_differences)
{
    struct differences d;

    coupon_set_number(&now, "leg_2", measure_exact(5), NULL);
    d = differences_between(&s.variables, &now, &last);
    ck_assert(differences_have(&d, variable_find(&s.variables, "leg_2")));
    ck_assert(!differences_have(&d, variable_find(&s.variables, "leg")));
    differences_free(&d);
}
END_TEST

/* The mark may hold what parts the sentence. */
START_TEST(what_is_new_does_not_name_the_coupon_before)
{
    char *since;

    coupon_set_category(&now, "sides", "both");
    free(last.mark);
    last.mark = mem_copy("A: 1");
    differ(1, "one thing differs from A: 1: sides welded");
    since = differences_since(&s.variables, &now, &last);
    ck_assert_str_eq(since, "sides welded");
    free(since);
    since = differences_since(&s.variables, &now, &now);
    ck_assert_str_eq(since, "nothing");
    free(since);
    since = differences_since(&s.variables, &now, NULL);
    ck_assert_str_eq(since, "the first");
    free(since);
}
END_TEST

/* However many there are, each is named. */
START_TEST(a_hundred_own_variables_are_all_named)
{
    struct differences d;
    char key[16], label[64], *names;

    for (int i = 0; i < 100; i++) {
        snprintf(key, sizeof key, "own_%03d", i);
        snprintf(label, sizeof label, "Own thing of the shop number %03d", i);
        ck_assert_int_eq(variable_add(&s.variables,
                                      &(struct variable){.key = key,
                                                         .label = label,
                                                         .group = GROUP_OTHER,
                                                         .role = ROLE_CAUSE,
                                                         .kind = VARIABLE_CATEGORY,
                                                         .own = true},
                                      NULL),
                         0);
        coupon_set_category(&now, key, "new");
    }
    d = differences_between(&s.variables, &now, &last);
    names = differences_names(&d);
    ck_assert_uint_eq(d.count, 100);
    ck_assert(strstr(names, ", own thing of the shop number 098 and own thing of the shop number "
                            "099") != NULL);
    free(names);
    differences_free(&d);
}
END_TEST

START_TEST(a_value_that_went_missing_is_a_change)
{
    coupon_unset(&now, "sides");
    differ(1, "one thing differs from 07: sides welded");
}
END_TEST

START_TEST(what_follows_from_passes_is_no_change_where_there_are_none)
{
    coupon_add_pass(&now)->arc_s = 12;
    differ(0, "nothing differs from 07");
    coupon_set_number(&now, "passes", measure_exact(2), NULL);
    differ(1, "one thing differs from 07: passes");
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
    tcase_add_test(t, two_changes_are_named);
    tcase_add_test(t, only_what_differs_is_among_the_differences);
    tcase_add_test(t, what_is_new_does_not_name_the_coupon_before);
    tcase_add_test(t, a_hundred_own_variables_are_all_named);
    tcase_add_test(t, a_value_that_went_missing_is_a_change);
    tcase_add_test(t, what_follows_from_passes_is_no_change_where_there_are_none);
    tcase_add_test(t, a_single_pass_wire_in_two_passes_is_asked_about);
    suite_add_tcase(su, t);
    return su;
}
