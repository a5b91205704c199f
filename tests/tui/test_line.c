#include "run.h"

#include <string.h>

#include "tui/widget/line.h"

static void press(struct line *l, enum key_code code)
{
    line_key(l, (struct key){.code = code});
}

static void type(struct line *l, const char *text)
{
    line_key(l, (struct key){.code = PRESS_PASTE, .text = text});
}

START_TEST(characters_go_in_where_the_cursor_is)
{
    struct line l;

    line_start(&l, "17 V");
    press(&l, PRESS_LEFT);
    press(&l, PRESS_LEFT);
    line_key(&l, (struct key){.code = PRESS_CHAR, .ch = L'.'});
    line_key(&l, (struct key){.code = PRESS_CHAR, .ch = L'5'});
    ck_assert_str_eq(line_text(&l), "17.5 V");
    press(&l, PRESS_HOME);
    line_key(&l, (struct key){.code = PRESS_CHAR, .ch = L'±'});
    ck_assert_str_eq(line_text(&l), "±17.5 V");
    press(&l, PRESS_END);
    press(&l, PRESS_BACKSPACE);
    press(&l, PRESS_BACKSPACE);
    ck_assert_str_eq(line_text(&l), "±17.5");
    press(&l, PRESS_HOME);
    press(&l, PRESS_DELETE);
    ck_assert_str_eq(line_text(&l), "17.5");
    line_free(&l);
}
END_TEST

START_TEST(a_letter_goes_with_its_combining_marks)
{
    struct line l;

    line_start(&l, "blåst"); /* a, then U+030A */
    for (int i = 0; i < 2; i++)
        press(&l, PRESS_LEFT);
    press(&l, PRESS_BACKSPACE);
    ck_assert_str_eq(line_text(&l), "blst");
    line_free(&l);
}
END_TEST

START_TEST(the_ends_hold)
{
    struct line l;

    line_start(&l, "");
    for (int i = 0; i < 3; i++) {
        press(&l, PRESS_LEFT);
        press(&l, PRESS_BACKSPACE);
        press(&l, PRESS_RIGHT);
        press(&l, PRESS_DELETE);
    }
    ck_assert_str_eq(line_text(&l), "");
    press(&l, PRESS_ENTER); /* means nothing to a line */
    press(&l, PRESS_UP);
    ck_assert_str_eq(line_text(&l), "");
    ck_assert_uint_eq(l.at, 0);
    line_free(&l);
}
END_TEST

START_TEST(control_characters_and_broken_bytes_stay_out)
{
    struct line l;

    line_start(&l, "a");
    type(&l, "\033[2J");
    type(&l, "\xff\xfe");
    ck_assert_str_eq(line_text(&l), "a");
    type(&l, "120 °C");
    ck_assert_str_eq(line_text(&l), "a120 °C");
    line_free(&l);
}
END_TEST

START_TEST(a_line_has_an_end)
{
    static char much[LINE_MAX_BYTES + 10];
    struct line l;

    memset(much, 'x', sizeof much - 1);
    line_start(&l, "a");
    type(&l, much);
    ck_assert_str_eq(line_text(&l), "a");
    line_free(&l);
}
END_TEST

START_TEST(clearing_to_either_side)
{
    struct line l;

    line_start(&l, "12 ipm");
    for (int i = 0; i < 3; i++)
        press(&l, PRESS_LEFT);
    line_key(&l, (struct key){.code = PRESS_CONTROL, .ch = L'k'});
    ck_assert_str_eq(line_text(&l), "12 ");
    line_key(&l, (struct key){.code = PRESS_CONTROL, .ch = L'u'});
    ck_assert_str_eq(line_text(&l), "");
    line_free(&l);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/line");
    TCase *t = tcase_create("line");

    tcase_add_test(t, characters_go_in_where_the_cursor_is);
    tcase_add_test(t, a_letter_goes_with_its_combining_marks);
    tcase_add_test(t, the_ends_hold);
    tcase_add_test(t, control_characters_and_broken_bytes_stay_out);
    tcase_add_test(t, a_line_has_an_end);
    tcase_add_test(t, clearing_to_either_side);
    suite_add_tcase(s, t);
    return s;
}
