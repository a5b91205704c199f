/* Several programs with one book: nothing is lost, nothing is seen by halves. */
#include "run.h"

#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/db.h"

static struct scratch at;
static struct error e;

static void set_up(void)
{
    scratch_make(&at);
    e = (struct error){0};
}

static void tear_down(void)
{
    scratch_remove(&at);
}

enum { PROGRAMS = 4 };

static void leave(void)
{
    fprintf(stderr, "%s\n", e.text);
    _exit(1);
}

/* Runs `act` in four programs at once and waits for them. */
static void in_four_programs(void (*act)(void))
{
    pid_t children[PROGRAMS];

    for (int i = 0; i < PROGRAMS; i++) {
        children[i] = fork();
        ck_assert_int_ge(children[i], 0);
        if (children[i] == 0) {
            act();
            _exit(0);
        }
    }
    for (int i = 0; i < PROGRAMS; i++) {
        int status;

        ck_assert_int_eq(waitpid(children[i], &status, 0), children[i]);
        ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
}

static void save_many(void)
{
    struct book *book = scratch_open(at.book, BOOK_CREATE); /* all of them make it, too */

    for (int k = 0; k < 200; k++)
        if (scratch_save(book, &e) < 0)
            leave();
    book_close(book);
}

START_TEST(four_programs_write_at_once)
{
    char *marks;

    in_four_programs(save_many);
    marks =
        scratch_text(at.book, "SELECT count(DISTINCT mark) || ' ' || count(DISTINCT uuid) || ' '"
                              " || max(id) FROM coupon");
    ck_assert_str_eq(marks, "800 800 800");
    free(marks);
    scratch_sound(at.book);
}
END_TEST

/* Reads the coupon, adds one to a value, saves; when another was faster, once more from the start.
 */
static void count_up(void)
{
    struct book *book = scratch_open(at.book, BOOK_WRITE);

    for (int done = 0; done < 50;) {
        struct coupon c;
        double was;

        if (coupon_load(book, NULL, "01", &c, &e) < 0)
            leave();
        was = coupon_value(&c, "bend_angle")->measure.low;
        coupon_set_number(&c, "bend_angle", measure_exact(was + 1), NULL);
        if (coupon_save(book, &c, &e) == 0)
            done++;
        else if (strstr(e.text, "was changed by another program") == NULL)
            leave();
        coupon_free(&c);
    }
    book_close(book);
}

START_TEST(no_change_of_another_program_is_overwritten)
{
    struct book *book = scratch_open(at.book, BOOK_CREATE);
    struct coupon c;

    coupon_init(&c);
    coupon_set_number(&c, "bend_angle", measure_exact(0), NULL);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    coupon_free(&c);
    in_four_programs(count_up);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &c, &e), 0);
    ck_assert_double_eq(coupon_value(&c, "bend_angle")->measure.low, PROGRAMS * 50);
    ck_assert_int_eq(c.revision, PROGRAMS * 50 + 1);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM touched WHERE state IS NOT NULL"),
                     PROGRAMS * 50);
    coupon_free(&c);
    book_close(book);
}
END_TEST

/* Until killed: one pass and the value 1, then three passes and the value 3, and so on. */
static void flip_forever(void)
{
    struct book *book = scratch_open(at.book, BOOK_WRITE);
    struct coupon c;

    if (coupon_load(book, NULL, "01", &c, &e) < 0)
        leave();
    for (;;) {
        size_t passes = c.pass_count == 1 ? 3 : 1;

        c.pass_count = 0;
        while (c.pass_count < passes)
            coupon_add_pass(&c);
        coupon_set_number(&c, "bend_angle", measure_exact((double)passes), NULL);
        if (coupon_save(book, &c, &e) < 0)
            leave();
    }
}

START_TEST(a_coupon_is_never_seen_half_saved)
{
    struct book *book = scratch_open(at.book, BOOK_CREATE);
    size_t seen[4] = {0};
    struct coupon c;
    pid_t child;

    coupon_init(&c);
    coupon_add_pass(&c);
    coupon_set_number(&c, "bend_angle", measure_exact(1), NULL);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    coupon_free(&c);
    child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        flip_forever();
    for (int i = 0; i < 100000 && (i < 300 || seen[1] == 0 || seen[3] == 0); i++) {
        struct coupon_list list = {0};

        ck_assert_int_eq(coupons_load(book, NULL, false, &list, &e), 0);
        ck_assert_uint_eq(list.count, 1);
        ck_assert_double_eq(coupon_value(&list.items[0], "bend_angle")->measure.low,
                            (double)list.items[0].pass_count);
        seen[list.items[0].pass_count]++;
        coupon_list_free(&list);
    }
    ck_assert_int_eq(waitpid(child, NULL, WNOHANG), 0); /* it was writing all the time */
    kill(child, SIGKILL);
    waitpid(child, NULL, 0);
    printf("seen with one pass %zu times, with three %zu times\n", seen[1], seen[3]);
    ck_assert(seen[1] > 0 && seen[3] > 0);
    book_close(book);
}
END_TEST

START_TEST(a_program_that_never_lets_go_is_named)
{
    struct book *mine = scratch_open(at.book, BOOK_CREATE), *other;
    struct coupon_list list = {0};

    ck_assert_int_eq(scratch_save(mine, &e), 0);
    other = scratch_open(at.book, BOOK_WRITE);
    sqlite3_busy_timeout(mine->sqlite, 50);
    ck_assert_int_eq(book_begin(other, &e), 0);
    ck_assert_int_lt(scratch_save(mine, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_ptr_nonnull(strstr(e.text, "another program has been writing into it"));
    ck_assert_ptr_nonnull(strstr(e.text, "nothing of this was stored"));
    ck_assert_int_eq(coupons_load(mine, NULL, false, &list, &e), 0); /* reading goes on */
    ck_assert_uint_eq(list.count, 1);
    coupon_list_free(&list);
    book_rollback(other);
    ck_assert_int_eq(scratch_save(mine, &e), 0);
    book_close(mine);
    book_close(other);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/many");
    TCase *t = tcase_create("many");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 300);
    tcase_add_test(t, four_programs_write_at_once);
    tcase_add_test(t, no_change_of_another_program_is_overwritten);
    tcase_add_test(t, a_coupon_is_never_seen_half_saved);
    tcase_add_test(t, a_program_that_never_lets_go_is_named);
    suite_add_tcase(s, t);
    return s;
}
