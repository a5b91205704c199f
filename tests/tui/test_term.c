/* The size of the screen, without a terminal: curses draws to /dev/null. */
#include "run.h"

#include <curses.h>
#include <stdio.h>

#include "tui/term/term.h"

START_TEST(sizes_stay_within_bounds)
{
    FILE *nowhere = fopen("/dev/null", "r+");
    SCREEN *screen = newterm("vt100", nowhere, nowhere);

    ck_assert_ptr_nonnull(screen);
    term_resize(100, 30);
    ck_assert_int_eq(term_columns(), 100);
    ck_assert_int_eq(term_rows(), 30);
    term_resize(0, 24); /* what a line without a size says */
    ck_assert_int_eq(term_columns(), 100);
    term_resize(65535, 65535);
    ck_assert_int_eq(term_columns(), TERM_MAX_COLUMNS);
    ck_assert_int_eq(term_rows(), TERM_MAX_ROWS);
    term_resize(1, 1);
    ck_assert_int_eq(term_columns(), 1);
    ck_assert_int_eq(term_rows(), 1);
    endwin();
    delscreen(screen);
    fclose(nowhere);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/term");
    TCase *t = tcase_create("term");

    tcase_add_test(t, sizes_stay_within_bounds);
    suite_add_tcase(s, t);
    return s;
}
