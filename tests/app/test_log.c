/* Logging: one transaction from the last coupon to the next mark. */
#include "run.h"

#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/mem.h"

static char folder[32];
static char *path;
static struct session session;
static struct error e;

static void open_session(struct session *s)
{
    ck_assert_msg(session_open(s, path, BOOK_CREATE, &e) == 0, "%s", e.text);
}

static void begin(void)
{
    strcpy(folder, "/tmp/coldlap-log-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/b.coldlap", folder);
    open_session(&session);
}

static void end(void)
{
    char *command = mem_format("rm -r '%s'", folder);

    session_close(&session);
    ck_assert_int_eq(system(command), 0);
    free(command);
    free(path);
}

static void log_one(struct session *s, struct logging *l, double volts)
{
    ck_assert_msg(task_log_begin(s, "t", false, l, &e) == 0, "%s", e.text);
    coupon_set_number(&l->coupon, "volts", measure_exact(volts), NULL);
    ck_assert_msg(task_log_save(s, l, &e) == 0, "%s", e.text);
}

START_TEST(a_coupon_is_set_up_like_the_last_in_use)
{
    struct coupon c;
    struct logging l;

    log_one(&session, &l, 18);
    ck_assert(!l.has_last);
    ck_assert_str_eq(l.coupon.mark, "01");
    task_log_end(&session, &l);
    log_one(&session, &l, 25);
    ck_assert(l.has_last);
    ck_assert_str_eq(l.last.mark, "01");
    ck_assert_int_eq(task_coupon_strike(&session, &l.coupon, "moved", &e), 0);
    task_log_end(&session, &l);

    ck_assert_int_eq(task_log_begin(&session, "t", false, &l, &e), 0);
    ck_assert_str_eq(l.last.mark, "01");
    ck_assert_double_eq(coupon_value(&l.coupon, "volts")->measure.low, 18);
    task_log_end(&session, &l);
    ck_assert_int_eq(task_log_begin(&session, "t", true, &l, &e), 0);
    ck_assert(l.has_last);
    ck_assert_uint_eq(l.coupon.value_count, 0);
    ck_assert_int_eq(task_log_save(&session, &l, &e), 0);
    ck_assert_str_eq(l.coupon.mark, "03");
    ck_assert_int_eq(task_coupon_before(&session, &l.coupon, &c, &e), 1);
    ck_assert_str_eq(c.mark, "01");
    coupon_free(&c);
    ck_assert_int_eq(task_coupon_before(&session, &l.last, &c, &e), 0);
    coupon_free(&c);
    task_log_end(&session, &l);
}
END_TEST

START_TEST(what_is_not_saved_leaves_no_trial)
{
    struct trial_list trials;
    struct logging l;

    ck_assert_int_eq(task_log_begin(&session, "slip", false, &l, &e), 0);
    task_log_end(&session, &l);
    ck_assert_int_eq(task_trials(&session, &trials, &e), 0);
    ck_assert_uint_eq(trials.count, 0);
    trial_list_free(&trials);
    log_one(&session, &l, 18);
    task_log_end(&session, &l);
    ck_assert_int_eq(task_log_begin(&session, "t", false, &l, &e), 0);
    l.coupon.mark = mem_copy("01");
    ck_assert_int_lt(task_log_save(&session, &l, &e), 0);
    task_log_end(&session, &l);
    log_one(&session, &l, 18);
    ck_assert_str_eq(l.coupon.mark, "02");
    task_log_end(&session, &l);
}
END_TEST

enum { BENCHES = 4, EACH = 25 };

static void log_many(void)
{
    struct logging l;
    struct session s;

    open_session(&s);
    for (int i = 0; i < EACH; i++) {
        log_one(&s, &l, 18);
        /* nothing was stored between the last coupon and this one */
        ck_assert_int_eq(l.coupon.sequence, l.has_last ? l.last.sequence + 1 : 1);
        task_log_end(&s, &l);
    }
    session_close(&s);
}

START_TEST(benches_that_log_at_once_never_share_a_mark)
{
    pid_t children[BENCHES];
    struct coupon_list all;
    int status;

    session_close(&session); /* an open book must not be taken into another program */
    for (int i = 0; i < BENCHES; i++) {
        children[i] = fork();
        ck_assert_int_ge(children[i], 0);
        if (children[i] == 0) {
            log_many();
            _exit(0);
        }
    }
    for (int i = 0; i < BENCHES; i++) {
        ck_assert_int_eq(waitpid(children[i], &status, 0), children[i]);
        ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    open_session(&session);
    ck_assert_int_eq(task_coupons(&session, NULL, true, &all, &e), 0);
    ck_assert_uint_eq(all.count, BENCHES * EACH);
    for (size_t i = 0; i < all.count; i++) {
        char *mark = mem_format("%02zu", i + 1);

        ck_assert_str_eq(all.items[i].mark, mark);
        free(mark);
    }
    coupon_list_free(&all);
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("app/log");
    TCase *t = tcase_create("log");

    tcase_add_checked_fixture(t, begin, end);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, a_coupon_is_set_up_like_the_last_in_use);
    tcase_add_test(t, what_is_not_saved_leaves_no_trial);
    tcase_add_test(t, benches_that_log_at_once_never_share_a_mark);
    suite_add_tcase(su, t);
    return su;
}
