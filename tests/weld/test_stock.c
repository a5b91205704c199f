/* Cutting stock. */
#include "run.h"

#include <math.h>

#include "weld/stock.h"

static struct cut cut(long n, double piece, double kerf, double bar, double ends)
{
    return stock_cut(n, (struct mm){piece}, (struct mm){kerf}, (struct mm){bar}, (struct mm){ends},
                     (struct mm){50}, (struct mm){5});
}

/* 6 m, pieces of 100 mm with 3 mm cuts: 58 · 100 + 57 · 3 = 5971 fits, 59 · 100 + 58 · 3 = 6074
 * does not. */
START_TEST(pieces_from_a_bar)
{
    struct cut c = cut(60, 100, 3, 6000, 0);

    ck_assert_int_eq(c.per_bar, 58);
    ck_assert_int_eq(c.bars, 2);
    ck_assert_double_eq_tol(c.used.v, 5971 + 2 * 100 + 3, 1e-9);
    ck_assert_double_eq_tol(c.left.v, 6000 - 203 - 3, 1e-9);
    ck_assert_double_eq_tol(c.mass.v, 60 * 0.1 * 0.05 * 0.005 * 7833.41, 1e-3);
}
END_TEST

/* The last piece needs no cut behind it; inch stock fits as exactly as metric. */
START_TEST(a_bar_that_just_fits)
{
    ck_assert_int_eq(cut(3, 100, 5, 310, 0).per_bar, 3);
    ck_assert_int_eq(cut(3, 100, 5, 309.9, 0).per_bar, 2);
    ck_assert_int_eq(cut(3, 100, 5, 330, 20).per_bar, 3);
    ck_assert_int_eq(cut(3, 4 * 25.4, 0.1 * 25.4, 12.2 * 25.4, 0).per_bar, 3);
    ck_assert_int_eq(cut(4, 100, 0, 400, 0).per_bar, 4);
}
END_TEST

/* However it is cut, the bars hold what was asked for, and one bar less would not. */
START_TEST(bars_are_enough_and_no_more)
{
    long n;

    for (n = 1; n < 200; n += 7) {
        struct cut c = cut(n, 83, 2.5, 2000, 15);

        ck_assert(c.bars * c.per_bar >= n);
        ck_assert((c.bars - 1) * c.per_bar < n);
        ck_assert(c.used.v <= (double)c.bars * (2000 - 15) + 1e-9);
        ck_assert(c.left.v >= 0);
    }
}
END_TEST

START_TEST(outside_the_range_it_says_so)
{
    ck_assert_ptr_nonnull(cut(3, 400, 3, 300, 0).outside);
    ck_assert_ptr_nonnull(cut(3, 0, 3, 300, 0).outside);
    ck_assert_ptr_nonnull(cut(-1, 100, 3, 300, 0).outside);
    ck_assert_ptr_nonnull(cut(3, 100, -1, 300, 0).outside);
    ck_assert_int_eq(cut(0, 100, 3, 300, 0).bars, 0);
    ck_assert_double_eq(cut(0, 100, 3, 300, 0).used.v, 0);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/stock");
    TCase *t = tcase_create("stock");

    tcase_add_test(t, pieces_from_a_bar);
    tcase_add_test(t, a_bar_that_just_fits);
    tcase_add_test(t, bars_are_enough_and_no_more);
    tcase_add_test(t, outside_the_range_it_says_so);
    suite_add_tcase(s, t);
    return s;
}
