/* Text, boxes and the frame of a screen, drawn to nowhere. */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "cells.h"
#include "tui/term/dump.h"
#include "tui/widget/screen_layout.h"

static void tear_down(void)
{
    cells_end();
}

START_TEST(text_is_cut_to_its_cells)
{
    struct canvas c = cells_begin(20, 10);

    ck_assert_int_eq(paint_text(&c, 0, 0, 6, TONE_PLAIN, "abcdef"), 6);
    ck_assert_int_eq(paint_text(&c, 1, 0, 5, TONE_PLAIN, "abcdef"), 5);
    ck_assert_int_eq(paint_text(&c, 2, 16, 9, TONE_PLAIN, "abcdef"), 4); /* the canvas ends */
    ck_assert_int_eq(paint_text(&c, 3, 14, 9, TONE_PLAIN, "abcdef"), 6);
    ck_assert_int_eq(paint_text(&c, 4, 19, 9, TONE_PLAIN, "abcdef"), 1);
    ck_assert_int_eq(paint_text(&c, 9, 0, 9, TONE_PLAIN, "last"), 4);
    cells_assert_row(0, "abcdef");
    cells_assert_row(1, "abcd…");
    cells_assert_row(2, "                abc…");
    cells_assert_row(3, "              abcdef");
    cells_assert_row(4, "                   …");
    cells_assert_row(9, "last");
}
END_TEST

START_TEST(nothing_is_painted_outside)
{
    static const struct {
        int y, x, columns;
    } outside[] = {{-1, 0, 5}, {10, 0, 5}, {0, -1, 5}, {0, 20, 5}, {0, 0, 0}, {0, 0, -3}};
    struct canvas c = cells_begin(20, 10);

    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++)
        ck_assert_int_eq(
            paint_text(&c, outside[i].y, outside[i].x, outside[i].columns, TONE_PLAIN, "text"), 0);
    paint_rule(&c, -1, 0, 20);
    paint_rule(&c, 10, 0, 20);
    paint_rule(&c, 0, 20, 5);
    for (int row = 0; row < 10; row++)
        cells_assert_row(row, "");
}
END_TEST

START_TEST(rules_and_blanks_end_with_the_canvas)
{
    struct canvas c = cells_begin(10, 4);

    for (int row = 0; row < 4; row++)
        paint_text(&c, row, 0, 10, TONE_PLAIN, "0123456789");
    paint_rule(&c, 0, 8, 9);
    paint_rule(&c, 1, 8, 2);
    paint_blank(&c, (struct area){2, 7, 9, 9}, TONE_PLAIN);
    cells_assert_row(0, "01234567──");
    cells_assert_row(1, "01234567──");
    cells_assert_row(2, "0123456");
    cells_assert_row(3, "0123456");
    paint_text(&c, 0, 0, 10, TONE_PLAIN, "0123456789");
    paint_blank(&c, (struct area){-1, 2, 2, 3}, TONE_PLAIN); /* its first row is above */
    cells_assert_row(0, "01   56789");
    cells_assert_row(1, "01234567──");
}
END_TEST

START_TEST(text_stands_at_the_right)
{
    struct canvas c = cells_begin(20, 10);

    paint_right(&c, 0, 10, 10, TONE_PLAIN, "right");
    paint_right(&c, 1, 10, 10, TONE_PLAIN, "ten cells.");
    paint_right(&c, 2, 10, 10, TONE_PLAIN, "eleven cell");
    cells_assert_row(0, "               right");
    cells_assert_row(1, "          ten cells.");
    cells_assert_row(2, "          eleven ce…");
}
END_TEST

START_TEST(lines_break_at_spaces)
{
    static const char text[] = "one two  three";
    struct canvas c = cells_begin(20, 10);

    ck_assert_int_eq(paint_wrapped(&c, (struct area){0, 1, 3, 7}, TONE_PLAIN, text), 2);
    cells_assert_row(0, " one two");
    cells_assert_row(1, " three");
    ck_assert_int_eq(paint_wrapped(&c, (struct area){3, 0, 2, 6}, TONE_PLAIN, text), 2);
    cells_assert_row(3, "one");
    cells_assert_row(4, "two  …"); /* the last line there is room for shows the cut */
    ck_assert_int_eq(paint_wrapped(&c, (struct area){6, 0, 4, 3}, TONE_PLAIN, text), 4);
    cells_assert_row(8, "thr"); /* a word longer than the line */
    cells_assert_row(9, "ee");
    ck_assert_int_eq(paint_wrapped_rows(text, 14), 1);
    ck_assert_int_eq(paint_wrapped_rows(text, 13), 2);
    ck_assert_int_eq(paint_wrapped_rows(text, 3), 4);
    ck_assert_int_eq(paint_wrapped_rows(text, 0), 11); /* as if there were one cell */
    ck_assert_int_eq(paint_wrapped_rows("", 9), 0);
}
END_TEST

/* Without UTF-8 nothing but ASCII is painted. */
START_TEST(signs_are_written_out)
{
    struct canvas c = cells_begin(40, 2);

    c.utf8 = false;
    ck_assert_int_eq(paint_text(&c, 0, 0, 40, TONE_PLAIN, "135° ± 2, ≥ ü水x"), 21);
    cells_assert_row(0, "135 deg +/- 2, >= ??x");
    paint_text(&c, 1, 0, 5, TONE_PLAIN, "abcdefg");
    cells_assert_row(1, "abcd.");
}
END_TEST

START_TEST(a_box_has_a_border)
{
    struct canvas c = cells_begin(12, 5);

    for (int row = 0; row < 5; row++)
        paint_text(&c, row, 0, 12, TONE_PLAIN, "............");
    paint_box(&c, (struct area){1, 2, 3, 6});
    cells_assert_row(0, "............");
    cells_assert_row(1, "..┌────┐....");
    cells_assert_row(2, "..│    │....");
    cells_assert_row(3, "..└────┘....");
    cells_assert_row(4, "............");
}
END_TEST

START_TEST(the_cursor_stays_on_the_canvas)
{
    struct canvas c = cells_begin(12, 5);

    paint_cursor(&c, 4, 11);
    ck_assert(c.cursor_y == 4 && c.cursor_x == 11);
    paint_cursor(&c, 5, 12);
    ck_assert(c.cursor_y == 4 && c.cursor_x == 11);
    paint_cursor(&c, 0, 0);
    ck_assert(c.cursor_y == 0 && c.cursor_x == 0);
    paint_cursor(&c, -1, -1);
    ck_assert(c.cursor_y == 0 && c.cursor_x == 0);
}
END_TEST

/* Title and keys above, words below; from 16 rows on with rules, the caution in the lower one. */
START_TEST(a_frame_has_rules_where_there_is_room)
{
    struct screen_layout l = {.title = "Title",
                              .aside = "aside",
                              .context = CONTEXT_PAGE,
                              .caution = "careful",
                              .words = "words"};
    struct canvas c = cells_begin(40, 15);
    struct area body = screen_layout_draw(&c, &l);

    ck_assert(body.y == 2 && body.x == 0 && body.rows == 11 && body.columns == 40);
    cells_assert_row(0, "Title                              aside");
    cells_assert_row(2, "");
    cells_assert_row(13, "words");
    c = cells_begin(40, 16);
    body = screen_layout_draw(&c, &l);
    ck_assert(body.y == 3 && body.x == 0 && body.rows == 10 && body.columns == 40);
    cells_assert_row(2, "────────────────────────────────────────");
    cells_assert_row(13, "─ careful ──────────────────────────────");
    cells_assert_row(14, "words");
    l.caution = NULL;
    l.words = NULL;
    c = cells_begin(40, 16);
    screen_layout_draw(&c, &l);
    cells_assert_row(13, "────────────────────────────────────────");
    cells_assert_row(14, "");
    ck_assert_int_eq(screen_layout_body(4, 40).rows, 0);
    ck_assert_int_eq(screen_layout_body(5, 40).rows, 1);
    ck_assert_int_eq(screen_layout_body(2, 40).rows, 0);
}
END_TEST

/* The title keeps half of the width; what stands beside it is left out before that. */
START_TEST(a_title_has_half_of_its_row)
{
    static char title[] = "A title longer than the whole of its row is";
    struct screen_layout l = {.title = title, .context = CONTEXT_PAGE};
    struct canvas c = cells_begin(40, 10);

    l.aside = "eighteen cells are";
    screen_layout_draw(&c, &l);
    cells_assert_row(0, "A title longer than…  eighteen cells are");
    l.aside = "nineteen cells here";
    screen_layout_draw(&c, &l);
    cells_assert_row(0, "A title longer than the whole of its ro…");
}
END_TEST

static void assert_file(const char *path, const char *wanted)
{
    char text[2000] = "";
    FILE *in = fopen(path, "r");

    ck_assert_ptr_nonnull(in);
    ck_assert_uint_gt(fread(text, 1, sizeof text - 1, in), 0);
    fclose(in);
    ck_assert_str_eq(text, wanted);
}

/* Rows with wide characters as well as those without; lines of the terminal's own; looks. */
START_TEST(a_screen_is_written_into_a_file)
{
    char folder[] = "/tmp/coldlap-dump-XXXXXX", path[64];
    struct canvas c = cells_begin(12, 4);
    struct error e = {0};

    ck_assert_ptr_nonnull(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/screen", folder);
    paint_text(&c, 0, 1, 11, TONE_TITLE, "bold");
    paint_text(&c, 1, 0, 12, TONE_FOCUS, "水 1");
    paint_rule(&c, 2, 0, 12);
    paint_cursor(&c, 1, 3);
    canvas_end(&c);
    ck_assert_int_eq(dump_screen(path, NULL, false, false, &e), 0);
    assert_file(path, " bold\n水 1\n────────────\n\n");
    ck_assert_int_eq(dump_screen(path, NULL, false, true, &e), -1); /* it is there already */
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_int_eq(dump_screen(path, NULL, true, true, &e), 0);
    assert_file(path, " bold\n水 1\n────────────\n\n---\n.bbbb.......\nrrrr........\n"
                      "............\n............\ncursor 1 3\n");
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(rmdir(folder), 0);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/paint");
    TCase *t = tcase_create("paint");

    tcase_add_checked_fixture(t, NULL, tear_down);
    tcase_add_test(t, text_is_cut_to_its_cells);
    tcase_add_test(t, nothing_is_painted_outside);
    tcase_add_test(t, rules_and_blanks_end_with_the_canvas);
    tcase_add_test(t, text_stands_at_the_right);
    tcase_add_test(t, lines_break_at_spaces);
    tcase_add_test(t, signs_are_written_out);
    tcase_add_test(t, a_box_has_a_border);
    tcase_add_test(t, the_cursor_stays_on_the_canvas);
    tcase_add_test(t, a_frame_has_rules_where_there_is_room);
    tcase_add_test(t, a_title_has_half_of_its_row);
    tcase_add_test(t, a_screen_is_written_into_a_file);
    suite_add_tcase(s, t);
    return s;
}
