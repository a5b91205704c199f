#include "run.h"

#include <curses.h>
#include <stdio.h>
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

/* Every key of the keyboard by its curses code, and the edges of what are characters. */
START_TEST(codes_become_keys)
{
    static const struct {
        wint_t code;
        bool is_code;
        enum key_code key;
        wchar_t ch;
    } cases[] = {{KEY_BTAB, true, PRESS_BACK_TAB, 0},
                 {KEY_BACKSPACE, true, PRESS_BACKSPACE, 0},
                 {KEY_DC, true, PRESS_DELETE, 0},
                 {KEY_UP, true, PRESS_UP, 0},
                 {KEY_DOWN, true, PRESS_DOWN, 0},
                 {KEY_LEFT, true, PRESS_LEFT, 0},
                 {KEY_RIGHT, true, PRESS_RIGHT, 0},
                 {KEY_HOME, true, PRESS_HOME, 0},
                 {KEY_END, true, PRESS_END, 0},
                 {KEY_PPAGE, true, PRESS_PAGE_UP, 0},
                 {KEY_NPAGE, true, PRESS_PAGE_DOWN, 0},
                 {KEY_FIND, true, PRESS_HOME, 0},
                 {KEY_SELECT, true, PRESS_END, 0},
                 {0, true, PRESS_NONE, 0},
                 {'\n', false, PRESS_ENTER, 0},
                 {'\t', false, PRESS_TAB, 0},
                 {27, false, PRESS_ESC, 0},
                 {'\b', false, PRESS_BACKSPACE, 0},
                 {0, false, PRESS_NONE, 0},
                 {1, false, PRESS_CONTROL, L'a'},
                 {26, false, PRESS_CONTROL, L'z'},
                 {28, false, PRESS_NONE, 0},
                 {31, false, PRESS_NONE, 0},
                 {32, false, PRESS_CHAR, L' '},
                 {126, false, PRESS_CHAR, L'~'},
                 {0x80, false, PRESS_NONE, 0},
                 {0x9f, false, PRESS_NONE, 0},
                 {0xa0, false, PRESS_CHAR, 0xa0}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct key k = key_from_curses(cases[i].code, cases[i].is_code);

        ck_assert_msg(k.code == cases[i].key && k.ch == cases[i].ch, "code %u", cases[i].code);
    }
}
END_TEST

/* What a keypad in application mode and older terminals send, and the ends of a paste. */
START_TEST(sequences_become_keys)
{
    static const struct {
        const char *sequence;
        enum key_code key;
        wchar_t ch;
    } cases[] = {{"\033OM", PRESS_ENTER, 0},    {"\033Op", PRESS_CHAR, L'0'},
                 {"\033Oy", PRESS_CHAR, L'9'},  {"\033Om", PRESS_CHAR, L'-'},
                 {"\033OX", PRESS_CHAR, L'='},  {"\033[A", PRESS_UP, 0},
                 {"\033[1~", PRESS_HOME, 0},    {"\033[8~", PRESS_END, 0},
                 {"\033[5~", PRESS_PAGE_UP, 0}, {"\033[6~", PRESS_PAGE_DOWN, 0},
                 {"\033[3~", PRESS_DELETE, 0},  {"\033[Z", PRESS_BACK_TAB, 0},
                 {"\033[200~", PRESS_NONE, 0},  {"\033[201~", PRESS_NONE, 0}};
    FILE *nowhere = fopen("/dev/null", "r+");
    SCREEN *screen = newterm("vt100", nowhere, nowhere);

    ck_assert_ptr_nonnull(screen);
    key_define_sequences();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int code = key_defined(cases[i].sequence);
        struct key k = key_from_curses((wint_t)code, true);

        ck_assert_msg(code > 0, "%s", cases[i].sequence + 1);
        ck_assert_msg(k.code == cases[i].key && k.ch == cases[i].ch, "%s", cases[i].sequence + 1);
        ck_assert_int_eq(key_is_paste((wint_t)code, false),
                         !strcmp(cases[i].sequence, "\033[200~"));
        ck_assert_int_eq(key_is_paste((wint_t)code, true), !strcmp(cases[i].sequence, "\033[201~"));
    }
    endwin();
    delscreen(screen);
    fclose(nowhere);
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
    tcase_add_test(t, codes_become_keys);
    tcase_add_test(t, sequences_become_keys);
    tcase_add_test(t, every_action_has_a_key_of_a_keyboard);
    tcase_add_test(t, hints_fit_and_keep_the_way_out);
    tcase_add_test(t, hints_are_named_in_order_as_far_as_they_fit);
    suite_add_tcase(s, t);
    return s;
}
