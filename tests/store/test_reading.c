/* Many coupons read at once, and many stored at once. */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/part.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/trials.h"

static struct scratch at;
static struct book *book;
static struct error e;
static struct trial trials[2];

static void set_up(void)
{
    scratch_make(&at);
    book = scratch_open(at.book, BOOK_CREATE);
    e = (struct error){0};
    for (size_t i = 0; i < 2; i++) {
        trial_init(&trials[i]);
        trials[i].name = mem_copy(i == 0 ? "one" : "other");
        ck_assert_int_eq(trial_save(book, &trials[i], &e), 0);
    }
}

static void tear_down(void)
{
    trial_free(&trials[0]);
    trial_free(&trials[1]);
    book_close(book);
    scratch_remove(&at);
}

static void save_filled(size_t trial, double volts)
{
    struct coupon c;

    scratch_coupon(&c);
    free(c.mark);
    c.mark = NULL;
    memcpy(c.trial, trials[trial].id, sizeof c.trial);
    coupon_set_number(&c, "volts", measure_exact(volts), NULL);
    ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
    coupon_free(&c);
}

/* One coupon in ten, so that each is looked for; and the nine others, which lie together. */
START_TEST(coupons_far_apart_are_read_as_those_that_lie_together)
{
    ck_assert_int_eq(book_begin(book, &e), 0);
    for (int i = 0; i < 60; i++)
        save_filled(i % 10 == 0 ? 0 : 1, 10 + i);
    ck_assert_int_eq(book_commit(book, &e), 0);
    for (size_t t = 0; t < 2; t++) {
        struct coupon_list list = {0};

        ck_assert_int_eq(coupons_load(book, trials[t].id, false, &list, &e), 0);
        ck_assert_uint_eq(list.count, t == 0 ? 6 : 54);
        for (size_t i = 0; i < list.count; i++) {
            struct coupon alone;

            ck_assert_int_eq(coupon_load_number(book, list.items[i].sequence, &alone, &e), 0);
            scratch_same_coupon(&list.items[i], &alone);
            ck_assert_double_eq(coupon_value(&list.items[i], "volts")->measure.low,
                                9 + (double)list.items[i].sequence);
            ck_assert_uint_eq(list.items[i].pass_count, 3);
            coupon_free(&alone);
        }
        coupon_list_free(&list);
    }
}
END_TEST

START_TEST(figures_are_the_coupon_without_entries_and_photographs)
{
    struct coupon_list whole = {0}, figures = {0};

    save_filled(0, 20);
    ck_assert_int_eq(coupons_load(book, NULL, false, &whole, &e), 0);
    ck_assert_int_eq(coupons_load_figures(book, NULL, false, &figures, &e), 0);
    ck_assert_uint_eq(figures.count, 1);
    ck_assert_uint_eq(figures.items[0].photo_count, 0);
    ck_assert_uint_eq(figures.items[0].value_count, whole.items[0].value_count);
    for (size_t i = 0; i < whole.items[0].value_count; i++) {
        struct value *a = &whole.items[0].values[i], *b = &figures.items[0].values[i];

        ck_assert(value_same(a, b));
        if (b->kind == VARIABLE_NUMBER)
            ck_assert_ptr_null(b->text);
        free(a->text);
        a->text = mem_copy(b->text);
    }
    while (whole.items[0].photo_count > 0)
        part_remove(&whole.items[0], PART_PHOTO, 0);
    scratch_same_coupon(&whole.items[0], &figures.items[0]);
    coupon_list_free(&whole);
    coupon_list_free(&figures);
}
END_TEST

/* The book refuses the pass, after it has taken the row of the coupon. */
static void save_refused(void)
{
    struct coupon c;

    coupon_init(&c);
    coupon_add_pass(&c)->arc_s = -1;
    memcpy(c.trial, trials[0].id, sizeof c.trial);
    ck_assert_int_eq(coupon_save(book, &c, &e), -1);
    coupon_free(&c);
}

START_TEST(of_saves_that_belong_together_none_is_stored_when_one_fails)
{
    ck_assert_int_eq(book_begin_whole(book, &e), 0);
    save_filled(0, 20);
    save_refused();
    save_filled(0, 21); /* whoever stores them may go on to hear of other faults */
    ck_assert_int_eq(book_commit(book, &e), -1);
    ck_assert_ptr_nonnull(strstr(e.text, "nothing of it was stored"));
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM change"), 2); /* the trials */

    ck_assert_int_eq(book_begin_whole(book, &e), 0); /* the failure is over */
    save_filled(0, 20);
    save_filled(0, 21);
    ck_assert_int_eq(book_commit(book, &e), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 2);

    ck_assert_int_eq(book_begin(book, &e), 0); /* and a failure is again undone alone */
    save_refused();
    save_filled(0, 22);
    ck_assert_int_eq(book_commit(book, &e), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 3);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM pass"), 9);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/reading");
    TCase *t = tcase_create("reading");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, coupons_far_apart_are_read_as_those_that_lie_together);
    tcase_add_test(t, figures_are_the_coupon_without_entries_and_photographs);
    tcase_add_test(t, of_saves_that_belong_together_none_is_stored_when_one_fails);
    suite_add_tcase(s, t);
    return s;
}
