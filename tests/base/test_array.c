#include "run.h"

#include <stdlib.h>

#include "base/array.h"

START_TEST(capacity_grows_zeroed_and_keeps_what_was_there)
{
    int *items = NULL;
    size_t capacity = 0, before, first = 0;

    for (int i = 0; i < 1000; i++) {
        items = array_reserve(items, &capacity, (size_t)i + 1, sizeof *items);
        ck_assert_int_eq(items[i], 0);
        items[i] = i + 1;
        first = i == 8 ? capacity : first;
    }
    for (int i = 0; i < 1000; i++)
        ck_assert_int_eq(items[i], i + 1);
    ck_assert_uint_ge(capacity, 1000);
    ck_assert_uint_eq(first, 12); /* from 8 by half */
    before = capacity;
    for (size_t need = 0; need <= before; need++)
        items = array_reserve(items, &capacity, need, sizeof *items);
    ck_assert_uint_eq(capacity, before);
    items = array_reserve(items, &capacity, before + 1, sizeof *items);
    ck_assert_uint_eq(capacity, before + before / 2);
    items = array_reserve(items, &capacity, 10 * before, sizeof *items);
    ck_assert_uint_eq(capacity, 10 * before);
    for (size_t i = 1000; i < capacity; i++)
        ck_assert_int_eq(items[i], 0);
    free(items);
}
END_TEST

START_TEST(a_cut_closes_the_gap)
{
    int items[] = {10, 20, 30, 40};

    array_cut(items, 4, 1, sizeof *items);
    ck_assert(items[0] == 10 && items[1] == 30 && items[2] == 40);
    ck_assert_int_eq(items[3], 0);
    array_cut(items, 3, 2, sizeof *items);
    array_cut(items, 2, 0, sizeof *items);
    ck_assert_int_eq(items[0], 30);
    array_cut(items, 1, 0, sizeof *items);
    for (size_t i = 0; i < 4; i++)
        ck_assert_int_eq(items[i], 0);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/array");
    TCase *t = tcase_create("array");

    tcase_add_test(t, capacity_grows_zeroed_and_keeps_what_was_there);
    tcase_add_test(t, a_cut_closes_the_gap);
    suite_add_tcase(s, t);
    return s;
}
