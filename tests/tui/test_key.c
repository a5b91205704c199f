#include "run.h"

#include <curses.h>
#include <stdlib.h>
#include <string.h>

#include "tui/term/key.h"
#include "tui/widget/screen_layout.h"

START_TEST(names_and_keys_agree)
{
    static const char *const names[] = {"Enter", "Esc",    "Tab",       "Up",    "PageDown",
                                        "Home",  "Ctrl-S", "Backspace", "n",     "/",
                                        "?",     "°",      "Shift-Tab", "Delete"};
    char name[16];
    struct key k;

    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        ck_assert_msg(key_parse(names[i], &k), "%s", names[i]);
        key_word(k, name, sizeof name);
        ck_assert_str_eq(name, names[i]);
    }
    ck_assert(!key_parse("Hyper", &k));
    ck_assert(!key_parse("", &k));
}
END_TEST

START_TEST(what_terminals_send_becomes_keys)
{
    struct key k;

    ck_assert_int_eq(key_from_curses('\r', false).code, PRESS_ENTER);
    ck_assert_int_eq(key_from_curses(KEY_ENTER, true).code, PRESS_ENTER);
    ck_assert_int_eq(key_from_curses(127, false).code, PRESS_BACKSPACE);
    ck_assert_int_eq(key_from_curses(KEY_A1, true).code, PRESS_HOME);
    ck_assert_int_eq(key_from_curses(KEY_C3, true).code, PRESS_PAGE_DOWN);
    ck_assert_int_eq(key_from_curses(KEY_F(1), true).code, PRESS_NONE);
    ck_assert_int_eq(key_from_curses(0x9b, false).code, PRESS_NONE);
    k = key_from_curses(L'ø', false);
    ck_assert(k.code == PRESS_CHAR && k.ch == L'ø');
}
END_TEST

/* A key that is looked up has a name a keyboard can give. */
START_TEST(every_action_has_a_key_of_a_keyboard)
{
    const struct key_row *row;
    struct key k;
    char name[16];

    for (size_t i = 0; (row = key_row_at(i)) != NULL; i++) {
        if (row->action == ACTION_NONE)
            continue;
        ck_assert_msg(key_parse(row->key, &k), "%s", row->key);
        key_word(k, name, sizeof name);
        ck_assert_str_eq(name, row->key);
    }
}
END_TEST

START_TEST(hints_fit_and_keep_the_way_out)
{
    static const struct {
        enum key_context context;
        const char *last;
    } cases[] = {{CONTEXT_RACK, "? keys · q quit"},
                 {CONTEXT_CARD, "? keys · Esc back"},
                 {CONTEXT_RANKING, "? keys · Esc back"},
                 {CONTEXT_PART, "Esc back to the card"},
                 {CONTEXT_PAGE, "Esc back"}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (int columns = 40; columns < 200; columns += 7) {
            char *line = screen_layout_keys(cases[i].context, columns);
            size_t length = strlen(line), tail = strlen(cases[i].last);

            ck_assert_int_le((int)mbstowcs(NULL, line, 0), columns);
            ck_assert(length >= tail);
            ck_assert_str_eq(line + length - tail, cases[i].last);
            free(line);
        }
}
END_TEST

START_TEST(hints_are_named_in_order_as_far_as_they_fit)
{
    char *line = screen_layout_keys(CONTEXT_RANKING, 200);

    ck_assert_str_eq(line, "Enter open · o other result · u units · ? keys · Esc back");
    free(line);
    line = screen_layout_keys(CONTEXT_RANKING, 57); /* exactly */
    ck_assert_str_eq(line, "Enter open · o other result · u units · ? keys · Esc back");
    free(line);
    line = screen_layout_keys(CONTEXT_RANKING, 56);
    ck_assert_str_eq(line, "Enter open · o other result · ? keys · Esc back");
    free(line);
    line = screen_layout_keys(CONTEXT_RANKING, 46); /* a shorter one that still fits is named */
    ck_assert_str_eq(line, "Enter open · u units · ? keys · Esc back");
    free(line);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/key");
    TCase *t = tcase_create("key");

    tcase_add_test(t, names_and_keys_agree);
    tcase_add_test(t, what_terminals_send_becomes_keys);
    tcase_add_test(t, every_action_has_a_key_of_a_keyboard);
    tcase_add_test(t, hints_fit_and_keep_the_way_out);
    tcase_add_test(t, hints_are_named_in_order_as_far_as_they_fit);
    suite_add_tcase(s, t);
    return s;
}
