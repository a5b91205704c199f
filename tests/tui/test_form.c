/* The form without a terminal: curses draws to /dev/null and is read back. */
#include "run.h"

#include <stdlib.h>

#include "base/mem.h"
#include "cells.h"
#include "tui/widget/form.h"

enum { ROWS = 8 };

static void fill(struct form *f)
{
    form_begin(f);
    form_add(f, FIELD_HEADING, "Wire", "");
    form_add(f, FIELD_VALUE, "Wire diameter", "0.9 mm")->part = 1;
    form_add(f, FIELD_VALUE, "Polarity", "DCEP")->choices = mem_copy("DCEP|DCEN|AC");
    form_add(f, FIELD_HEADING, "Passes", "");
    form_add(f, FIELD_OPEN, "Add a pass", "")->part = 7;
    form_add(f, FIELD_REMARK, "Nothing follows yet", "");
    form_end(f);
}

static enum form_event press(struct form *f, enum key_code code)
{
    return form_key(f, (struct key){.code = code}, ROWS);
}

static enum form_event type(struct form *f, wchar_t ch)
{
    return form_key(f, (struct key){.code = PRESS_CHAR, .ch = ch}, ROWS);
}

START_TEST(the_focus_never_stands_on_a_heading)
{
    struct form f = {0};

    fill(&f);
    for (int i = 0; i < 8; i++) {
        ck_assert_int_ne(form_field(&f)->kind, FIELD_HEADING);
        press(&f, i < 5 ? PRESS_DOWN : PRESS_UP);
    }
    press(&f, PRESS_HOME);
    ck_assert_str_eq(form_field(&f)->label, "Wire diameter");
    press(&f, PRESS_TAB);
    ck_assert_str_eq(form_field(&f)->label, "Add a pass");
    press(&f, PRESS_BACK_TAB);
    ck_assert_str_eq(form_field(&f)->label, "Wire diameter");
    form_free(&f);
}
END_TEST

START_TEST(what_is_refused_stays_typed)
{
    struct form f = {0};
    enum tone tone;
    char *words;

    fill(&f);
    ck_assert_int_eq(type(&f, L'4'), FORM_USED);
    type(&f, L'x');
    ck_assert_int_eq(press(&f, PRESS_ENTER), FORM_WRITTEN);
    ck_assert_str_eq(line_text(&f.line), "4x");
    form_refuse(&f, "4x is no length");
    ck_assert(f.writing);
    ck_assert_str_eq(line_text(&f.line), "4x");
    words = form_words(&f, &tone);
    ck_assert_str_eq(words, "4x is no length");
    ck_assert_int_eq(tone, TONE_REFUSED);
    free(words);
    press(&f, PRESS_BACKSPACE);
    ck_assert_int_eq(press(&f, PRESS_ENTER), FORM_WRITTEN);
    form_accept(&f, ROWS);
    ck_assert(!f.writing);
    ck_assert_str_eq(form_field(&f)->label, "Polarity");
    form_free(&f);
}
END_TEST

START_TEST(escape_leaves_the_value_as_it_was)
{
    struct form f = {0};

    fill(&f);
    ck_assert_int_eq(press(&f, PRESS_ENTER), FORM_USED);
    ck_assert_str_eq(line_text(&f.line), "0.9 mm");
    type(&f, L'9');
    ck_assert_int_eq(press(&f, PRESS_ESC), FORM_USED);
    ck_assert(!f.writing);
    ck_assert_str_eq(form_field(&f)->value, "0.9 mm");
    ck_assert_int_eq(press(&f, PRESS_ESC), FORM_UNUSED);
    form_free(&f);
}
END_TEST

START_TEST(letters_are_left_to_the_screen)
{
    struct form f = {0};

    fill(&f);
    ck_assert_int_eq(type(&f, L's'), FORM_UNUSED);
    ck_assert(!f.writing);
    press(&f, PRESS_TAB);
    ck_assert_int_eq(type(&f, L'4'), FORM_UNUSED);
    ck_assert_int_eq(press(&f, PRESS_ENTER), FORM_OPENED);
    form_free(&f);
}
END_TEST

START_TEST(choices_go_round)
{
    struct form f = {0};
    char *choice;

    fill(&f);
    press(&f, PRESS_DOWN);
    ck_assert_int_eq(press(&f, PRESS_ENTER), FORM_CHOOSE);
    ck_assert_int_eq(press(&f, PRESS_RIGHT), FORM_WRITTEN);
    ck_assert_str_eq(line_text(&f.line), "DCEN");
    form_accept(&f, ROWS);
    ck_assert_str_eq(form_field(&f)->label, "Polarity"); /* ready for the next step */
    choice = choice_step("DCEP|DCEN|AC", "AC", 1);
    ck_assert_str_eq(choice, "DCEP");
    free(choice);
    choice = choice_step("DCEP|DCEN|AC", "DCEP", -1);
    ck_assert_str_eq(choice, "AC");
    free(choice);
    choice = choice_step("DCEP|DCEN|AC", "own", -1);
    ck_assert_str_eq(choice, "AC");
    free(choice);
    ck_assert_ptr_null(choice_step(NULL, "x", 1));
    ck_assert_ptr_null(choice_at("a|b", 2));
    form_free(&f);
}
END_TEST

START_TEST(drawing_shows_the_focus_and_changes_nothing)
{
    struct form f = {0}, before;
    struct canvas c = cells_begin(60, 8);

    fill(&f);
    f.items[1].remark = mem_copy("differs from 07: 1.2 mm");
    before = f;
    form_draw(&c, canvas_area(&c), &f);
    canvas_end(&c);
    ck_assert_mem_eq(&before, &f, sizeof f);
    cells_assert_row(1, "> Wire diameter         0.9 mm");
    cells_assert_row(2, "  Polarity              DCEP");
    cells_assert_row(4, "  Add a pass");
    ck_assert_int_eq(c.cursor_y, 1);
    ck_assert_int_eq(c.cursor_x, 0);
    form_write(&f, "1,2");
    form_draw(&c, canvas_area(&c), &f);
    cells_assert_row(1, "> Wire diameter         1,2");
    ck_assert_int_eq(c.cursor_x, 24 + 3);
    form_free(&f);
    cells_end();
}
END_TEST

/* Either side of each width where the columns change. */
START_TEST(columns_follow_the_width)
{
    static const struct {
        int columns;
        const char *value, *remark, *figure;
    } cases[] = {
        {63, "> Wire diameter          0.9 mm", "  Polarity               DCEP",
         "  Throat                 4.2 mm"},
        {64, "> Wire diameter             0.9 mm", "  Polarity                  DCEP",
         "  Throat                    4.2 mm"},
        {73, "> Wire diameter             0.9 mm", "  Polarity                  DCEP",
         "  Throat                    4.2 mm"},
        {74, "> Wire diameter             0.9 mm                    changed",
         "  Polarity                  DCEP", "  Throat                                4.2 mm"},
        {103, "> Wire diameter             0.9 mm                    changed",
         "  Polarity                  DCEP", "  Throat                                4.2 mm"},
        {104, "> Wire diameter             0.9 mm                            changed",
         "  Polarity                  DCEP", "  Throat                                4.2 mm"},
    };
    struct form f = {0};

    fill(&f);
    f.items[1].remark = mem_copy("changed");
    form_add(&f, FIELD_REMARK, "Throat", "4.2 mm");
    form_end(&f);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct canvas c = cells_begin(cases[i].columns, 8);

        form_draw(&c, canvas_area(&c), &f);
        cells_assert_row(1, cases[i].value);
        cells_assert_row(2, cases[i].remark);
        cells_assert_row(6, cases[i].figure);
    }
    form_free(&f);
    cells_end();
}
END_TEST

/* The unit is shown behind the line being written, which is at most 30 cells long then. */
START_TEST(a_line_being_written_shows_its_unit)
{
    struct form f = {0};
    struct canvas c;

    fill(&f);
    f.items[1].unit = "mm";
    form_write(&f, "0.9");
    c = cells_begin(60, 8);
    form_draw(&c, canvas_area(&c), &f);
    cells_assert_row(1, "> Wire diameter         0.9                            mm");
    c = cells_begin(50, 8);
    form_draw(&c, canvas_area(&c), &f);
    cells_assert_row(1, "> Wire diameter     0.9                       mm");
    f.items[1].unit = "";
    c = cells_begin(50, 8);
    form_draw(&c, canvas_area(&c), &f);
    cells_assert_row(1, "> Wire diameter     0.9");
    form_free(&f);
    cells_end();
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/form");
    TCase *t = tcase_create("form");

    tcase_add_test(t, the_focus_never_stands_on_a_heading);
    tcase_add_test(t, what_is_refused_stays_typed);
    tcase_add_test(t, escape_leaves_the_value_as_it_was);
    tcase_add_test(t, letters_are_left_to_the_screen);
    tcase_add_test(t, choices_go_round);
    tcase_add_test(t, drawing_shows_the_focus_and_changes_nothing);
    tcase_add_test(t, columns_follow_the_width);
    tcase_add_test(t, a_line_being_written_shows_its_unit);
    suite_add_tcase(s, t);
    return s;
}
