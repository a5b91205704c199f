#include "run.h"

#include <stdio.h>
#include <string.h>

#include "app/actions.h"

START_TEST(a_key_means_one_thing_at_a_place)
{
    const struct action *a, *b;

    for (size_t i = 0; (a = action_at(i)) != NULL; i++)
        for (size_t j = i + 1; (b = action_at(j)) != NULL; j++)
            if (a->key != NULL && b->key != NULL && (a->places & b->places) != 0)
                ck_assert_msg(strcmp(a->key, b->key) != 0, "%s and %s share the key %s", a->id,
                              b->id, a->key);
}
END_TEST

START_TEST(a_command_has_one_row_and_says_what_it_does)
{
    const struct action *a, *b;

    for (size_t i = 0; (a = action_at(i)) != NULL; i++) {
        char start[64];

        ck_assert_msg(a->summary != NULL && a->summary[strlen(a->summary) - 1] != '.', "%s", a->id);
        if ((a->places & PLACE_COMMAND) == 0) {
            ck_assert_msg(a->key != NULL, "%s can be called from nowhere", a->id);
            continue;
        }
        for (size_t j = i + 1; (b = action_at(j)) != NULL; j++)
            ck_assert(!(b->places & PLACE_COMMAND) || strcmp(a->id, b->id) != 0);
        snprintf(start, sizeof start, "coldlap %s", a->id);
        if (a->example != NULL)
            ck_assert_int_eq(strncmp(a->example, start, strlen(start)), 0);
    }
}
END_TEST

START_TEST(options_of_a_command_differ)
{
    const struct action *a;

    for (size_t i = 0; (a = action_at(i)) != NULL; i++)
        for (const struct action_option *o = a->options; o != NULL && o->name != NULL; o++) {
            ck_assert(o->help != NULL);
            for (const struct action_option *p = o + 1; p->name != NULL; p++)
                ck_assert_str_ne(o->name, p->name);
        }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/actions");
    TCase *t = tcase_create("actions");

    tcase_add_test(t, a_key_means_one_thing_at_a_place);
    tcase_add_test(t, a_command_has_one_row_and_says_what_it_does);
    tcase_add_test(t, options_of_a_command_differ);
    suite_add_tcase(s, t);
    return s;
}
