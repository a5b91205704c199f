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

Suite *suite(void)
{
    Suite *s = suite_create("tui/list");
    TCase *t = tcase_create("list");

    tcase_add_test(t, the_focus_stays_inside);
    tcase_add_test(t, the_focus_is_always_seen);
    tcase_add_test(t, no_line_is_left_empty_while_rows_remain);
    suite_add_tcase(s, t);
    return s;
}
