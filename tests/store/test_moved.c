/* The book is moved, removed or replaced while it is open. */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"

static struct scratch at;
static struct error e;
static struct book *book;

static void set_up(void)
{
    scratch_make(&at);
    ck_assert_int_eq(chdir(at.dir), 0);
    scratch_book(&at, 2);
    ck_assert_int_eq(system("cp b.coldlap other"), 0);
    book = scratch_open(at.book, BOOK_WRITE);
    ck_assert_msg(scratch_save(book, &e) == 0, "%s", e.text);
    ck_assert_int_gt(scratch_size("b.coldlap-wal"), 0);
    book_rest(book);
    e = (struct error){0};
}

static void tear_down(void)
{
    ck_assert_int_eq(chdir("/"), 0);
    scratch_remove(&at);
}

static void shell(const char *line)
{
    ck_assert_msg(system(line) == 0, "failed: %s", line);
}

static long coupons(const char *path)
{
    scratch_sound(path);
    return scratch_count(path, "SELECT count(*) FROM coupon");
}

static const char *const moves[] = {
    "ln b.coldlap kept && rm b.coldlap",
    "mv b.coldlap kept",
    "mv b.coldlap kept && cp other new && mv new b.coldlap",
};

static void assert_refused(int rc)
{
    ck_assert_int_eq(rc, -1);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_msg(strstr(e.text, "moved, removed or replaced while it was open; nothing of this "
                                 "was stored") != NULL,
                  "%s", e.text);
    ck_assert(one_line(&e));
}

START_TEST(a_save_is_refused)
{
    ck_assert(!book_moved(book));
    shell(moves[_i]);
    ck_assert(book_moved(book));
    assert_refused(scratch_save(book, &e));
    assert_refused(book_begin(book, &e));
    book_close(book);
    ck_assert_int_eq(coupons("kept"), 3);
    if (_i == 2)
        shell("cmp b.coldlap other");
}
END_TEST

/* As `log` does: what was the last coupon is asked for, then it is moved, then it saves. */
START_TEST(what_was_begun_is_not_committed)
{
    ck_assert_int_eq(book_begin(book, &e), 0);
    ck_assert_int_eq(scratch_save(book, &e), 0);
    shell(moves[_i]);
    assert_refused(book_commit(book, &e));
    book_close(book);
    ck_assert_int_eq(coupons("kept"), 3);
    if (_i == 2)
        shell("cmp b.coldlap other");
}
END_TEST

START_TEST(a_book_that_is_back_takes_saves_again)
{
    shell("mv b.coldlap kept");
    assert_refused(scratch_save(book, &e));
    shell("mv kept b.coldlap");
    ck_assert(!book_moved(book));
    ck_assert_int_eq(scratch_save(book, &e), 0);
    book_close(book);
    ck_assert_int_eq(coupons("b.coldlap"), 4);
}
END_TEST

START_TEST(a_link_that_leads_elsewhere_is_noticed)
{
    book_close(book);
    shell("ln -s b.coldlap link");
    book = scratch_open("link", BOOK_WRITE);
    ck_assert_int_eq(scratch_save(book, &e), 0);
    shell("ln -sf other link");
    assert_refused(scratch_save(book, &e));
    book_close(book);
    ck_assert_int_eq(coupons("b.coldlap"), 4);
    ck_assert_int_eq(coupons("other"), 2);
}
END_TEST

/* What is beside the book belongs to no other file of that name. */
START_TEST(nothing_is_left_that_would_change_another)
{
    ck_assert_int_eq(scratch_size("b.coldlap-wal"), 0);
    shell("cp other new && mv new b.coldlap");
    ck_assert_int_eq(coupons("b.coldlap"), 2);
    book_close(book);
    ck_assert_int_eq(coupons("b.coldlap"), 2);
}
END_TEST

/* The same file with other contents is a book like any other: what was known of the old ones is
 * forgotten, and what is stored is stored into the new ones. */
START_TEST(a_copy_over_it_is_noticed)
{
    long before = book_change_counter(book);

    ck_assert_int_eq(book_change_counter(book), before);
    shell("cp other b.coldlap");
    ck_assert_int_ne(book_change_counter(book), before);
    shell("cp other b.coldlap && touch -d '2 seconds' b.coldlap");
    ck_assert_int_eq(scratch_save(book, &e), 0);
    book_close(book);
    ck_assert_int_eq(coupons("b.coldlap"), 3);
}
END_TEST

START_TEST(no_book_copied_over_it_is_refused)
{
    shell("head -c 20000 /dev/zero | tr '\\0' x > b.coldlap");
    ck_assert_int_eq(scratch_save(book, &e), -1);
    ck_assert_msg(strstr(e.text, "not a coldlap book") != NULL, "%s", e.text);
    book_close(book);
    shell("head -c 20000 /dev/zero | tr '\\0' x | cmp - b.coldlap");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/moved");
    TCase *t = tcase_create("moved");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, a_save_is_refused, 0, 3);
    tcase_add_loop_test(t, what_was_begun_is_not_committed, 0, 3);
    tcase_add_test(t, a_book_that_is_back_takes_saves_again);
    tcase_add_test(t, a_link_that_leads_elsewhere_is_noticed);
    tcase_add_test(t, nothing_is_left_that_would_change_another);
    tcase_add_test(t, a_copy_over_it_is_noticed);
    tcase_add_test(t, no_book_copied_over_it_is_refused);
    suite_add_tcase(s, t);
    return s;
}
