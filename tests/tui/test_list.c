#include "run.h"

#include "tui/widget/list.h"

static bool press(struct list *l, enum key_code code, int rows)
{
    return list_key(l, (struct key){.code = code}, rows);
}

START_TEST(the_focus_stays_inside)
{
    struct list l = {.count = 3};

    ck_assert(press(&l, PRESS_UP, 10));
    ck_assert_uint_eq(l.focus, 0);
    for (int i = 0; i < 5; i++)
        press(&l, PRESS_DOWN, 10);
    ck_assert_uint_eq(l.focus, 2);
    list_resize(&l, 1);
    ck_assert_uint_eq(l.focus, 0);
    list_resize(&l, 0);
    ck_assert(press(&l, PRESS_END, 10));
    ck_assert_uint_eq(l.focus, 0);
    ck_assert(!press(&l, PRESS_ENTER, 10));
}
END_TEST

START_TEST(the_focus_is_always_seen)
{
    struct list l = {.count = 100};
    static const enum key_code keys[] = {PRESS_DOWN, PRESS_PAGE_DOWN, PRESS_END,      PRESS_PAGE_UP,
                                         PRESS_UP,   PRESS_HOME,      PRESS_PAGE_DOWN};

    for (int rows = 1; rows < 30; rows++)
        for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
            size_t top;

            press(&l, keys[i], rows);
            top = list_top(&l, rows);
            ck_assert_uint_le(top, l.focus);
            ck_assert_uint_lt(l.focus, top + (size_t)rows);
            ck_assert_uint_le(top + (size_t)rows, 100);
        }
}
END_TEST

START_TEST(no_line_is_left_empty_while_rows_remain)
{
    struct list l = {.count = 10, .focus = 9, .top = 9};

    ck_assert_uint_eq(list_top(&l, 4), 6);
    ck_assert_uint_eq(list_top(&l, 10), 0);
    ck_assert_uint_eq(list_top(&l, 50), 0);
    ck_assert_uint_eq(list_top(&l, 0), 9); /* no room at all */
}
END_TEST

/* Where each key leads from row 50 of 100 and from the ends, on 10 lines. */
START_TEST(keys_move_by_lines_and_pages)
{
    static const struct {
        enum key_code key;
        size_t from, to;
    } cases[] = {{PRESS_UP, 50, 49},        {PRESS_DOWN, 50, 51},      {PRESS_PAGE_UP, 50, 41},
                 {PRESS_PAGE_DOWN, 50, 59}, {PRESS_HOME, 50, 0},       {PRESS_END, 50, 99},
                 {PRESS_UP, 0, 0},          {PRESS_PAGE_UP, 8, 0},     {PRESS_PAGE_UP, 9, 0},
                 {PRESS_DOWN, 99, 99},      {PRESS_PAGE_DOWN, 91, 99}, {PRESS_PAGE_UP, 10, 1}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct list l = {.count = 100, .focus = cases[i].from};

        ck_assert(press(&l, cases[i].key, 10));
        ck_assert_uint_eq(l.focus, cases[i].to);
    }
    for (int rows = -1; rows <= 2; rows++) { /* a page is never less than a line */
        struct list l = {.count = 100, .focus = 50};

        press(&l, PRESS_PAGE_DOWN, rows);
        ck_assert_uint_eq(l.focus, 51);
    }
}
END_TEST

START_TEST(other_keys_are_left_alone)
{
    static const enum key_code others[] = {PRESS_NONE, PRESS_CHAR, PRESS_ENTER, PRESS_ESC,
                                           PRESS_LEFT, PRESS_TAB,  PRESS_TICK};
    struct list l = {.count = 100, .focus = 50};

    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        ck_assert(!press(&l, others[i], 10));
    ck_assert_uint_eq(l.focus, 50);
}
END_TEST

/* The list scrolls by no more than it has to. */
START_TEST(the_top_follows_the_focus)
{
    struct list l = {.count = 100};

    list_focus(&l, 9, 10);
    ck_assert_uint_eq(l.top, 0);
    list_focus(&l, 10, 10);
    ck_assert_uint_eq(l.top, 1);
    list_focus(&l, 1, 10);
    ck_assert_uint_eq(l.top, 1);
    list_focus(&l, 0, 10);
    ck_assert_uint_eq(l.top, 0);
    list_focus(&l, 99, 10);
    ck_assert_uint_eq(l.top, 90);
    list_focus(&l, 500, 10);
    ck_assert_uint_eq(l.focus, 99);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/list");
    TCase *t = tcase_create("list");

    tcase_add_test(t, the_focus_stays_inside);
    tcase_add_test(t, the_focus_is_always_seen);
    tcase_add_test(t, no_line_is_left_empty_while_rows_remain);
    tcase_add_test(t, keys_move_by_lines_and_pages);
    tcase_add_test(t, other_keys_are_left_alone);
    tcase_add_test(t, the_top_follows_the_focus);
    suite_add_tcase(s, t);
    return s;
}
