#include "run.h"

#include <curses.h>
#include <stdlib.h>
#include <string.h>

#include "tui/hints.h"
#include "tui/key.h"

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
    ck_assert_int_eq(key_from_curses('\r', false).code, PRESS_ENTER);
    ck_assert_int_eq(key_from_curses(KEY_ENTER, true).code, PRESS_ENTER);
    ck_assert_int_eq(key_from_curses(127, false).code, PRESS_BACKSPACE);
    ck_assert_int_eq(key_from_curses(KEY_A1, true).code, PRESS_HOME);
    ck_assert_int_eq(key_from_curses(KEY_C3, true).code, PRESS_PAGE_DOWN);
    ck_assert_int_eq(key_from_curses(KEY_F(1), true).code, PRESS_NONE);
    ck_assert_int_eq(key_from_curses(0x9b, false).code, PRESS_NONE);
    ck_assert(key_is(key_from_curses(L'ø', false), L'ø'));
}
END_TEST

/* Every key of the actions table is one a keyboard has, and means one thing at a place. */
START_TEST(every_action_has_a_key_of_its_own)
{
    static const int places[] = {PLACE_RACK, PLACE_CARD, PLACE_RANKING};
    const struct action *a;
    struct key k;

    for (size_t i = 0; (a = action_at(i)) != NULL; i++) {
        if (a->key == NULL)
            continue;
        ck_assert_msg(key_parse(a->key, &k), "%s", a->key);
        for (size_t p = 0; p < 3; p++)
            if (a->places & places[p])
                ck_assert_ptr_eq(hint_action(k, places[p]), a);
    }
}
END_TEST

START_TEST(hints_fit_and_keep_the_way_out)
{
    static const int places[] = {PLACE_RACK, PLACE_CARD, PLACE_RANKING};

    for (size_t p = 0; p < 3; p++)
        for (int columns = 40; columns < 200; columns += 7) {
            char *line = hint_line(places[p], columns);

            ck_assert_int_le((int)mbstowcs(NULL, line, 0), columns);
            ck_assert_ptr_nonnull(strstr(line, "? keys"));
            ck_assert_ptr_nonnull(strstr(line, places[p] == PLACE_RACK ? "q quit" : "Esc back"));
            free(line);
        }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/key");
    TCase *t = tcase_create("key");

    tcase_add_test(t, names_and_keys_agree);
    tcase_add_test(t, what_terminals_send_becomes_keys);
    tcase_add_test(t, every_action_has_a_key_of_its_own);
    tcase_add_test(t, hints_fit_and_keep_the_way_out);
    suite_add_tcase(s, t);
    return s;
}
