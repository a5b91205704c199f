/* The demo book says what the README says of it. */
#include "run.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "analysis/rank.h"
#include "app/coupon_questions.h"
#include "app/demo.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/mem.h"

static char folder[] = "/tmp/coldlap-demo-XXXXXX";
static char *path;
static struct session session;

static void begin(void)
{
    struct error e = {0};
    size_t coupons;

    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/demo.coldlap", folder);
    ck_assert_msg(demo_make(path, &coupons, &e) == 0, "%s", e.text);
    ck_assert_msg(session_open(&session, path, BOOK_READ, &e) == 0, "%s", e.text);
    ck_assert_uint_ge(coupons, 20);
}

static void end(void)
{
    char *command = mem_format("rm -r '%s'", folder);

    session_close(&session);
    ck_assert_int_eq(system(command), 0);
    free(command);
    free(path);
}

START_TEST(one_coupon_in_four_held)
{
    struct coupon_list all;
    struct error e = {0};
    size_t held = 0;

    ck_assert_int_eq(task_coupons(&session, NULL, false, &all, &e), 0);
    for (size_t i = 0; i < all.count; i++)
        held += all.items[i].bend.end == BEND_HELD;
    ck_assert_uint_eq(4 * held, all.count);
    coupon_list_free(&all);
}
END_TEST

START_TEST(every_trial_says_it_is_invented)
{
    struct trial_list trials;
    struct error e = {0};

    ck_assert_int_eq(task_trials(&session, &trials, &e), 0);
    ck_assert_uint_ge(trials.count, 1);
    for (size_t i = 0; i < trials.count; i++)
        ck_assert_ptr_nonnull(strstr(trials.items[i].note, "INVENTED"));
    trial_list_free(&trials);
}
END_TEST

START_TEST(every_coupon_is_plausible)
{
    struct coupon_list all;
    struct error e = {0};

    ck_assert_int_eq(task_coupons(&session, NULL, false, &all, &e), 0);
    for (size_t i = 0; i < all.count; i++) {
        struct page asked = {0};

        coupon_questions(&session, &all.items[i], NULL, &asked);
        ck_assert_msg(asked.count == 0, "coupon %s: %s", all.items[i].mark,
                      asked.count > 0 ? asked.blocks[0].text : "");
        ck_assert_uint_ge(all.items[i].pass_count, 1);
        ck_assert_int_ne(all.items[i].bend.end, BEND_NOT_DONE);
        ck_assert(all.items[i].face_read == (all.items[i].bend.end != BEND_HELD));
        page_free(&asked);
    }
    coupon_list_free(&all);
}
END_TEST

/* In every coupon of the tee trial spool and gas go together; elsewhere in the book they do not. */
START_TEST(spool_and_gas_are_tied_in_part_of_the_book)
{
    struct trial tee;
    struct coupon_list coupons;
    struct error e = {0};
    bool together[2] = {true, true};

    ck_assert_int_eq(task_trial(&session, "bench tee", &tee, &e), 0);
    ck_assert_int_eq(task_coupons(&session, NULL, false, &coupons, &e), 0);
    for (size_t i = 0; i < coupons.count; i++) {
        const struct coupon *c = &coupons.items[i];
        bool spool = strcmp(coupon_value(c, "wire_lot")->text, "spool B") == 0;
        bool gas = strcmp(coupon_value(c, "gas")->text, "CO2") == 0;
        bool here = strcmp(c->trial, tee.id) == 0;

        together[here] = together[here] && spool == gas;
    }
    ck_assert(together[1]);
    ck_assert(!together[0]);
    coupon_list_free(&coupons);
    trial_free(&tee);
}
END_TEST

START_TEST(what_is_there_is_never_written_into)
{
    struct error e = {0};
    struct stat before, after;
    size_t coupons;

    ck_assert_int_eq(stat(path, &before), 0);
    ck_assert_int_lt(demo_make(path, &coupons, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_int_eq(stat(path, &after), 0);
    ck_assert_int_eq(before.st_size, after.st_size);
    ck_assert_int_lt(demo_make("/nowhere/at/all.coldlap", &coupons, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("analysis/demo");
    TCase *t = tcase_create("demo");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_test(t, one_coupon_in_four_held);
    tcase_add_test(t, every_trial_says_it_is_invented);
    tcase_add_test(t, every_coupon_is_plausible);
    tcase_add_test(t, spool_and_gas_are_tied_in_part_of_the_book);
    tcase_add_test(t, what_is_there_is_never_written_into);
    suite_add_tcase(s, t);
    return s;
}
