/*
 * The screens as they are kept in golden/: at three sizes, with colours, with NO_COLOR, and on a
 * monochrome terminal, which all must hold the same text and park the cursor on the same cell.
 *
 * COLDLAP_WRITE_GOLDEN=1 writes them anew; look at the difference before it is kept.
 */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "terminal.h"

static const struct kind {
    const char *name, *term, *no_colour;
    bool colours;
} kinds[] = {
    {"colours", "xterm-256color", NULL, true},
    {"NO_COLOR", "xterm-256color", "1", false},
    {"vt100", "vt100", NULL, false},
};

static const struct {
    int columns, rows;
} sizes[] = {{80, 22}, {100, 30}, {132, 43}};

enum { KINDS = sizeof kinds / sizeof *kinds, SIZES = sizeof sizes / sizeof *sizes };

static void assert_golden(struct terminal *t, const char *screen, const struct setup *s)
{
    char *name = mem_format("%s-%dx%d", screen, s->columns, s->rows);

    ck_assert_msg(terminal_matches(t, name), "%s", name);
    free(name);
}

/* The cursor is where the focus is, which is marked by '>' and in reverse. */
static void assert_focus(struct terminal *t)
{
    ck_assert(terminal_cursor_row_holds(t, ">"));
    ck_assert(terminal_reverse_at_cursor(t));
    ck_assert(terminal_cursor_visible(t));
}

static void assert_colours(struct terminal *t, const struct kind *kind, bool some)
{
    struct looks looks = terminal_looks(t);

    ck_assert_int_gt(looks.reverse, 0);
    ck_assert_int_gt(looks.bold, 0);
    ck_assert_msg((looks.coloured > 0) == (kind->colours && some), "%s: %d cells in colour",
                  kind->name, looks.coloured);
}

static struct setup setup_of(int index)
{
    const struct kind *kind = &kinds[index % KINDS];

    return (struct setup){.columns = sizes[index / KINDS].columns,
                          .rows = sizes[index / KINDS].rows,
                          .term = kind->term,
                          .no_colour = kind->no_colour,
                          .book = "b.coldlap"};
}

START_TEST(rack_card_and_keys)
{
    struct setup s = setup_of(_i);
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&s);
    assert_golden(t, "rack", &s);
    assert_focus(t);
    terminal_press(t, "Home Down a");
    assert_golden(t, "rack-struck", &s);
    assert_focus(t);
    terminal_press(t, "Enter");
    assert_golden(t, "card", &s);
    assert_focus(t);
    assert_colours(t, &kinds[_i % KINDS], true);
    terminal_press(t, "PageDown PageDown Tab");
    assert_golden(t, "card-below", &s);
    assert_focus(t);
    terminal_press(t, "End");
    assert_golden(t, "card-end", &s);
    terminal_press(t, "Esc ?");
    assert_golden(t, "keys", &s);
    terminal_press(t, "Esc q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

START_TEST(ranking)
{
    struct setup s = setup_of(_i);
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&s);
    terminal_press(t, "r");
    assert_golden(t, "ranking", &s);
    assert_focus(t);
    assert_colours(t, &kinds[_i % KINDS], true);
    terminal_press(t, "PageDown PageDown PageDown End");
    assert_golden(t, "ranking-end", &s);
    terminal_press(t, "o");
    assert_golden(t, "ranking-result", &s);
    assert_focus(t);
    terminal_press(t, "Esc Esc q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

START_TEST(writing_a_new_card)
{
    struct setup s = setup_of(_i);
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&s);
    terminal_press(t, "n");
    assert_golden(t, "new", &s);
    terminal_press(t, "Tab Enter");
    assert_golden(t, "new-choices", &s);
    assert_focus(t);
    terminal_press(t, "Esc Tab Down");
    terminal_type(t, "1,2x");
    terminal_press(t, "Enter");
    assert_golden(t, "new-refused", &s);
    terminal_press(t, "Backspace Enter");
    assert_golden(t, "new-differs", &s);
    terminal_press(t, "Esc");
    assert_golden(t, "new-unsaved", &s);
    assert_focus(t);
    terminal_press(t, "d q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

START_TEST(an_empty_book)
{
    struct setup s = setup_of(_i);
    struct terminal *t;

    scratch_enter();
    t = terminal_start(&s);
    assert_golden(t, "empty", &s);
    terminal_press(t, "n");
    assert_golden(t, "empty-question", &s);
    terminal_press(t, "Esc r");
    assert_golden(t, "empty-ranking", &s);
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

START_TEST(small_and_smaller)
{
    static const struct setup s = {40, 10, .term = "vt100", .book = "b.coldlap"};
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&s);
    assert_golden(t, "rack", &s);
    terminal_press(t, "Enter");
    assert_golden(t, "card", &s);
    terminal_press(t, "r");
    assert_golden(t, "ranking", &s);
    terminal_resize(t, 30, 5);
    ck_assert(terminal_shows(t, "40x10"));
    terminal_resize(t, 40, 10);
    assert_golden(t, "ranking", &s);
    terminal_press(t, "Esc Esc q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

/* Without UTF-8 every sign is written out in ASCII. */
START_TEST(plain_ascii)
{
    static const struct setup s = {
        .columns = 80, .rows = 22, .term = "vt100", .locale = "C", .book = "b.coldlap"};
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&s);
    ck_assert(terminal_shows(t, "at least 90 deg"));
    ck_assert(terminal_shows(t, "Enter open | n new coupon"));
    terminal_press(t, "Enter");
    assert_golden(t, "card-ascii", &s);
    terminal_press(t, "Esc q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

/* What --keys saves is what the terminal shows. */
START_TEST(a_saved_screen_is_what_is_seen)
{
    static const struct setup s = {
        .columns = 80, .rows = 22, .book = "b.coldlap", .keys = "script"};
    char *seen, saved[8192] = "";
    struct terminal *t;
    FILE *file;

    scratch_bench();
    file = fopen("script", "w");
    fputs("# to the first coupon\nkey Home Enter\nsave-looks saved\n", file);
    fclose(file);
    t = terminal_start(&s);
    ck_assert(terminal_shows(t, "Coupon 01"));
    terminal_press(t, "Down"); /* the keyboard goes on where the script ended */
    ck_assert(terminal_cursor_row_holds(t, "> Welded"));
    terminal_press(t, "Up");
    ck_assert(terminal_cursor_row_holds(t, "> Mark"));
    ck_assert(terminal_shows(t, "The short mark stamped on it."));
    seen = terminal_text(t);
    *strstr(seen, "cursor ") = '\0';
    file = fopen("saved", "r");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_gt(fread(saved, 1, sizeof saved - 1, file), 0);
    fclose(file);
    ck_assert_ptr_nonnull(strstr(saved, "---\n"));
    ck_assert_ptr_nonnull(strstr(saved, "rrrrrrrrrr"));
    ck_assert_ptr_nonnull(strstr(saved, "cursor "));
    *strstr(saved, "---\n") = '\0';
    ck_assert_str_eq(saved, seen);
    free(seen);
    terminal_press(t, "Esc q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/golden");
    TCase *t = tcase_create("golden");

    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, scratch_begin_with_bench, scratch_end);
    tcase_add_loop_test(t, rack_card_and_keys, 0, SIZES * KINDS);
    tcase_add_loop_test(t, ranking, 0, SIZES * KINDS);
    tcase_add_loop_test(t, writing_a_new_card, 0, SIZES * KINDS);
    tcase_add_loop_test(t, an_empty_book, 0, SIZES * KINDS);
    tcase_add_test(t, small_and_smaller);
    tcase_add_test(t, plain_ascii);
    tcase_add_test(t, a_saved_screen_is_what_is_seen);
    suite_add_tcase(s, t);
    return s;
}
