/* The rows of the rack, drawn to nowhere. */
#include "run.h"

#include <stdlib.h>
#include <string.h>

#include "cells.h"
#include "tui/screen/rack_list.h"

static char mark[] = "07", when[] = "2026-03-07 14:05", changed[] = "sides welded",
            result[] = "90°";
static char struck[] = "struck out: cold";
static struct list_row rows[] = {{1, mark, when, changed, result, false},
                                 {2, mark, when, changed, struck, true}};

static struct rack rack_of(size_t count)
{
    static const struct variable angle = {.label = "Bend angle"};
    struct rack r = {.rows = rows, .view = {.total = count, .result = &angle}};

    list_resize(&r.list, count);
    return r;
}

/* Either side of each width where the columns change. */
START_TEST(columns_follow_the_width)
{
    static const struct {
        int columns;
        const char *head, *row;
    } cases[] = {
        {63, "  mark  changed since the one before         Bend angle",
         "> 07    sides welded                         90°"},
        {64, "  mark    changed since the one befo… Bend angle",
         "> 07      sides welded                90°"},
        {103,
         "  mark    changed since the one before                                       Bend angle",
         "> 07      sides welded                                                       90°"},
        {104, "  mark    welded            changed since the one before            Bend angle",
         "> 07      2026-03-07 14:05  sides welded                            90°"},
    };
    struct rack r = rack_of(2);

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct canvas c = cells_begin(cases[i].columns, 8);

        rack_draw(&c, canvas_area(&c), &r);
        cells_assert_row(0, cases[i].head);
        cells_assert_row(1, cases[i].row);
    }
    cells_end();
}
END_TEST

/* The focus is a row of the list, so the row of heads is always seen. */
START_TEST(more_rows_than_there_is_room_for)
{
    struct rack r = rack_of(2);
    struct canvas c = cells_begin(63, 2);

    list_focus(&r.list, 1, 1);
    rack_draw(&c, canvas_area(&c), &r);
    cells_assert_row(0, "  mark  changed since the one before         Bend angle");
    cells_assert_row(1, "> 07    sides welded                         struck out: cold ^");
    ck_assert_int_eq(c.cursor_y, 1);
    cells_end();
}
END_TEST

START_TEST(an_empty_rack_says_why)
{
    static char letters[] = "x";
    struct rack r = rack_of(0);
    struct canvas c = cells_begin(80, 8);

    rack_draw(&c, canvas_area(&c), &r);
    cells_assert_row(0, "  No coupons yet. Press n to log the first one.");
    ck_assert(c.cursor_y == 0 && c.cursor_x == 2);
    c = cells_begin(80, 8);
    r.view.letters = letters;
    rack_draw(&c, canvas_area(&c), &r);
    cells_assert_row(0, "  No coupons yet. Press n to log the first one.");
    c = cells_begin(80, 8);
    r.view.total = 1;
    rack_draw(&c, canvas_area(&c), &r);
    cells_assert_row(0, "  Looking for coupons that hold these letters.");
    c = cells_begin(80, 8);
    r.view.sides[0].done = r.view.sides[1].done = true;
    rack_draw(&c, canvas_area(&c), &r);
    cells_assert_row(0, "  No coupon holds these letters. Press / to look for others.");
    cells_end();
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/rack");
    TCase *t = tcase_create("rack");

    tcase_add_test(t, columns_follow_the_width);
    tcase_add_test(t, more_rows_than_there_is_room_for);
    tcase_add_test(t, an_empty_rack_says_why);
    suite_add_tcase(s, t);
    return s;
}
