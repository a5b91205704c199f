/* The table of keys: what each context must offer, and that no key is torn between two actions. */
#include "run.h"

#include <string.h>

#include "app/keys.h"

static const enum key_context contexts[] = {CONTEXT_RACK, CONTEXT_CARD, CONTEXT_RANKING,
                                            CONTEXT_PART, CONTEXT_PAGE};

START_TEST(a_key_means_one_thing_in_a_context)
{
    const struct key_row *a, *b;

    for (size_t i = 0; (a = key_row_at(i)) != NULL; i++)
        for (size_t j = i + 1; (b = key_row_at(j)) != NULL; j++)
            if (a->action != ACTION_NONE && b->action != ACTION_NONE &&
                (a->contexts & b->contexts) != 0)
                ck_assert_str_ne(a->key, b->key);
}
END_TEST

START_TEST(every_row_is_told_somewhere)
{
    const struct key_row *row;

    for (size_t i = 0; (row = key_row_at(i)) != NULL; i++) {
        ck_assert(row->contexts != 0 && row->key != NULL);
        ck_assert(row->action != ACTION_NONE || row->hint != NULL || row->summary != NULL);
        if (row->summary != NULL)
            ck_assert(row->summary[strlen(row->summary) - 1] != '.');
    }
}
END_TEST

static enum action action_of(const char *key, enum key_context context)
{
    const struct key_row *row = key_row_find(key, context);

    return row != NULL ? row->action : ACTION_NONE;
}

START_TEST(keys_are_found_by_context)
{
    ck_assert_int_eq(action_of("Enter", CONTEXT_RACK), ACTION_OPEN);
    ck_assert_int_eq(action_of("Enter", CONTEXT_CARD), ACTION_NONE); /* the form's own */
    ck_assert_int_eq(action_of("Esc", CONTEXT_RACK), ACTION_SHOW_ALL);
    ck_assert_int_eq(action_of("Esc", CONTEXT_RANKING), ACTION_LEAVE);
    ck_assert_int_eq(action_of("q", CONTEXT_RACK), ACTION_LEAVE);
    ck_assert_int_eq(action_of("q", CONTEXT_CARD), ACTION_NONE);
    ck_assert_int_eq(action_of("Ctrl-S", CONTEXT_CARD), ACTION_SAVE);
    ck_assert_int_eq(action_of("x", CONTEXT_RACK), ACTION_STRIKE);
    ck_assert_int_eq(action_of("x", CONTEXT_RANKING), ACTION_NONE);
    ck_assert_int_eq(action_of("", CONTEXT_RACK), ACTION_NONE);
}
END_TEST

START_TEST(every_context_can_be_left)
{
    for (size_t i = 0; i < sizeof contexts / sizeof *contexts; i++)
        ck_assert_int_eq(action_of(contexts[i] == CONTEXT_RACK ? "q" : "Esc", contexts[i]),
                         ACTION_LEAVE);
}
END_TEST

/* Refused while the book can only be read: exactly what stores something or leads to that. */
START_TEST(what_writes_is_marked)
{
    static const enum action writing[] = {ACTION_NEW,    ACTION_SAVE,  ACTION_PASS,  ACTION_FLAW,
                                          ACTION_REMOVE, ACTION_PHOTO, ACTION_STRIKE};
    const struct key_row *row;

    for (size_t i = 0; (row = key_row_at(i)) != NULL; i++) {
        bool wanted = false;

        for (size_t j = 0; j < sizeof writing / sizeof *writing; j++)
            wanted = wanted || writing[j] == row->action;
        ck_assert_msg(row->writes == wanted, "%s", row->key);
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/keys");
    TCase *t = tcase_create("keys");

    tcase_add_test(t, a_key_means_one_thing_in_a_context);
    tcase_add_test(t, every_row_is_told_somewhere);
    tcase_add_test(t, keys_are_found_by_context);
    tcase_add_test(t, every_context_can_be_left);
    tcase_add_test(t, what_writes_is_marked);
    suite_add_tcase(s, t);
    return s;
}
