/* The journal: what was done is undone and redone, whole, in order, and by whoever opens the book.
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/calibrations.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/settings.h"
#include "store/trials.h"
#include "store/variables.h"

static struct scratch at;
static struct book *book;
static struct error e;

static void set_up(void)
{
    scratch_make(&at);
    book = scratch_open(at.book, BOOK_CREATE);
    journal_sign(book, "bench 1", "Ann");
    e = (struct error){0};
}

static void tear_down(void)
{
    book_close(book);
    scratch_remove(&at);
}

static void reopen(const char *bench)
{
    book_close(book);
    book = scratch_open(at.book, BOOK_WRITE);
    journal_sign(book, bench, NULL);
}

/* Undoes or redoes, and returns the number of the change; 0: the last one of the bench. */
static int64_t gone(int (*go)(struct book *, int64_t, struct change *, struct error *),
                    int64_t number)
{
    struct change change;
    int64_t which;

    ck_assert_msg(go(book, number, &change, &e) == 0, "%s", e.text);
    which = change.number;
    change_free(&change);
    return which;
}

static void refused(int (*go)(struct book *, int64_t, struct change *, struct error *),
                    int64_t number, const char *words)
{
    struct change change;

    ck_assert_int_lt(go(book, number, &change, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_msg(strstr(e.text, words) != NULL && one_line(&e), "'%s' is not in: %s", words,
                  e.text);
    ck_assert_ptr_null(change.what);
}

static struct coupon saved(void)
{
    struct coupon c;

    scratch_coupon(&c);
    ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
    return c;
}

static long coupons(void)
{
    return scratch_count(at.book, "SELECT count(*) FROM coupon");
}

/* Saves the coupon with this note. */
static void note(long number, const char *text)
{
    struct coupon c = scratch_load(book, number);

    free(c.note);
    c.note = mem_copy(text);
    ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
    coupon_free(&c);
}

static void has_note(long number, const char *text)
{
    struct coupon c = scratch_load(book, number);

    ck_assert_str_eq(c.note, text);
    coupon_free(&c);
}

START_TEST(a_new_coupon_goes_and_comes_back_whole)
{
    struct coupon c = saved(), got;

    ck_assert_int_eq(gone(journal_undo, 0), 1);
    ck_assert_int_eq(coupons(), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT (SELECT count(*) FROM value) + (SELECT count(*)"
                                            " FROM pass) + (SELECT count(*) FROM photo)"),
                     0);
    ck_assert_int_eq(gone(journal_redo, 0), 1);
    got = scratch_load(book, 1);
    scratch_same_coupon(&c, &got);
    ck_assert_str_eq(got.id, c.id);
    ck_assert_str_eq(got.mark, "01");
    ck_assert_int_gt(got.revision, c.revision);
    coupon_free(&got);
    coupon_free(&c);
}
END_TEST

START_TEST(a_changed_coupon_is_as_before_and_as_after)
{
    struct coupon first = saved(), second = scratch_load(book, 1), got;

    coupon_unset(&second, "joint");
    coupon_set_number(&second, "thickness", measure_exact(1.0 / 3), NULL);
    second.passes[0].volts = 1e-7 / 3;
    second.pass_count = 1;
    second.bend.end = BEND_BROKE;
    ck_assert_int_eq(coupon_save(book, &second, &e), 0);
    for (int i = 0; i < 3; i++) {
        gone(journal_undo, 0);
        got = scratch_load(book, 1);
        scratch_same_coupon(&first, &got);
        coupon_free(&got);
        gone(journal_redo, 0);
        got = scratch_load(book, 1);
        scratch_same_coupon(&second, &got);
        coupon_free(&got);
    }
    coupon_free(&first);
    coupon_free(&second);
}
END_TEST

START_TEST(striking_out_and_restoring_are_undone)
{
    struct coupon c = saved(), got;

    ck_assert_int_eq(coupon_strike(book, &c, "wrong plate", &e), 0);
    gone(journal_undo, 0);
    got = scratch_load(book, 1);
    ck_assert_ptr_null(got.struck_why);
    coupon_free(&got);
    gone(journal_redo, 0);
    got = scratch_load(book, 1);
    ck_assert_str_eq(got.struck_why, "wrong plate");
    coupon_free(&got);
    ck_assert_int_eq(coupon_restore(book, &c, &e), 0);
    gone(journal_undo, 0);
    got = scratch_load(book, 1);
    ck_assert_str_eq(got.struck_why, "wrong plate");
    coupon_free(&got);
    coupon_free(&c);
}
END_TEST

/* The numbers a coupon can hold, at all their digits, there and back. */
START_TEST(every_digit_survives)
{
    enum { MANY = 400 };
    struct coupon c, got;
    char key[16];

    coupon_init(&c);
    srand(test_seed(5));
    for (int i = 0; i < MANY; i++) {
        double x = (rand() - RAND_MAX / 2) * pow(10, rand() % 40 - 30) / 3;

        snprintf(key, sizeof key, "own%d", i);
        coupon_set_number(&c, key, i % 2 == 0 ? measure_exact(x) : measure_at_least(x), NULL);
    }
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    note(1, "changed");
    gone(journal_undo, 0);
    got = scratch_load(book, 1);
    scratch_same_coupon(&c, &got);
    coupon_free(&got);
    coupon_free(&c);
}
END_TEST

START_TEST(a_trial_with_its_levels)
{
    struct trial t, got;

    trial_init(&t);
    t.name = mem_copy("thin");
    t.stop_deg = 135;
    level_set_add(trial_set_for(&t, "volts"), "17 V");
    ck_assert_int_eq(trial_save(book, &t, &e), 0);
    level_set_add(trial_set_for(&t, "volts"), "19 V");
    trial_set_for(&t, "gas");
    t.stop_deg = 120;
    ck_assert_int_eq(trial_save(book, &t, &e), 0);
    gone(journal_undo, 0);
    ck_assert_int_eq(trial_load(book, "thin", &got, &e), 0);
    ck_assert_double_eq(got.stop_deg, 135);
    ck_assert_uint_eq(got.set_count, 1);
    ck_assert_uint_eq(got.sets[0].count, 1);
    ck_assert_str_eq(got.sets[0].levels[0], "17 V");
    ck_assert_int_eq(got.revision, 3);
    trial_free(&got);
    ck_assert_int_lt(trial_save(book, &t, &e), 0); /* was loaded at 2 */
    ck_assert_ptr_nonnull(strstr(e.text, "changed by another program"));
    gone(journal_redo, 0);
    ck_assert_int_eq(trial_load(book, "thin", &got, &e), 0);
    ck_assert_uint_eq(got.set_count, 2);
    ck_assert_str_eq(got.sets[0].levels[1], "19 V");
    trial_free(&got);
    gone(journal_undo, 0);
    gone(journal_undo, 0);
    ck_assert_int_lt(trial_load(book, "thin", &got, &e), 0);
    gone(journal_redo, 0);
    ck_assert_int_eq(trial_load(book, "thin", &got, &e), 0);
    trial_free(&got);
    trial_free(&t);
}
END_TEST

START_TEST(a_trial_that_has_coupons_stays)
{
    struct trial t;
    struct coupon c;

    trial_init(&t);
    t.name = mem_copy("thin");
    ck_assert_int_eq(trial_save(book, &t, &e), 0);
    coupon_init(&c);
    memcpy(c.trial, t.id, sizeof c.trial);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    refused(journal_undo, 1, "it made the trial thin, which has 1 more coupon now");
    gone(journal_undo, 2);
    gone(journal_undo, 1);
    ck_assert_int_eq(coupons(), 0);
    gone(journal_redo, 0);
    gone(journal_redo, 0);
    ck_assert_int_eq(coupons(), 1);
    coupon_free(&c);
    trial_free(&t);
}
END_TEST

static const struct variable rust = {.key = "rust_left",
                                     .label = "Rust left",
                                     .role = ROLE_CAUSE,
                                     .kind = VARIABLE_NUMBER,
                                     .dimension = DIM_SHARE,
                                     .can = {0, 100},
                                     .usual = {-INFINITY, 100.0 / 3}};

static char *rust_is(void)
{
    return scratch_text(at.book, "SELECT label || ' ' || dimension || ' ' || place || ' ' ||"
                                 " printf('%!.17g', usual_high) FROM own_variable");
}

START_TEST(an_own_variable)
{
    struct variable v = rust;
    char *first, *now;

    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    first = rust_is();
    v.label = "Rust";
    v.dimension = DIM_LENGTH;
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    gone(journal_undo, 0);
    now = rust_is();
    ck_assert_str_eq(now, first);
    free(now);
    gone(journal_undo, 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM own_variable"), 0);
    gone(journal_redo, 0);
    now = rust_is();
    ck_assert_str_eq(now, first);
    free(now);
    gone(journal_redo, 0);
    scratch_same_text(at.book, "SELECT label || ' ' || dimension FROM own_variable", "Rust length");
    free(first);
}
END_TEST

/* What coupons say must not lose its meaning, nor get another. */
START_TEST(an_own_variable_that_coupons_use_stays)
{
    struct variable v = rust;
    struct coupon c;

    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    v.dimension = DIM_LENGTH;
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    coupon_init(&c);
    coupon_set_number(&c, "rust_left", measure_exact(4), NULL);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    v.help = "depth of the rust";
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    gone(journal_undo, 4); /* its help may go */
    refused(journal_undo, 2, "coupon 01 has a value of Rust left");
    gone(journal_undo, 3);
    gone(journal_undo, 2);
    gone(journal_undo, 1);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM own_variable"), 0);
    coupon_free(&c);
}
END_TEST

START_TEST(an_own_variable_goes_with_the_coupons_it_came_with)
{
    struct coupon c;

    ck_assert_int_eq(book_begin(book, &e), 0);
    ck_assert_int_eq(own_variable_save(book, &rust, &e), 0);
    coupon_init(&c);
    coupon_set_number(&c, "rust_left", measure_exact(4), NULL);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    coupon_free(&c);
    ck_assert_int_eq(book_commit(book, &e), 0);
    gone(journal_undo, 0);
    ck_assert_int_eq(coupons(), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM own_variable"), 0);
    gone(journal_redo, 0);
    c = scratch_load(book, 1);
    ck_assert_double_eq(coupon_value(&c, "rust_left")->measure.low, 4);
    coupon_free(&c);
}
END_TEST

START_TEST(a_setting)
{
    ck_assert_int_eq(setting_set(book, "units", "inch", &e), 0);
    ck_assert_int_eq(setting_set(book, "units", "metric", &e), 0);
    ck_assert_int_eq(setting_set(book, "draft", "what the program keeps for itself", &e), 0);
    gone(journal_undo, 0);
    scratch_units_are(book, "inch");
    gone(journal_undo, 0);
    scratch_units_are(book, NULL);
    refused(journal_undo, 0, "there is nothing to undo that was done at this bench");
    gone(journal_redo, 0);
    gone(journal_redo, 0);
    scratch_units_are(book, "metric");
    refused(journal_redo, 0, "there is nothing to redo that was undone at this bench");
}
END_TEST

static void feed(double dial)
{
    struct calibration c = {.machine = mem_copy("MIG 200"), .dial = dial};

    c.feed_mm_per_min = 1000 * dial / 3;
    ck_assert_msg(calibration_add(book, &c, &e) == 0, "%s", e.text);
    calibration_free(&c);
}

/* A number that was given to what is gone now is not given to another thing. */
START_TEST(a_calibration)
{
    struct calibration_list list = {0};

    feed(4);
    gone(journal_undo, 1);
    feed(5);
    gone(journal_redo, 1);
    ck_assert_int_eq(calibrations_load(book, NULL, &list, &e), 0);
    ck_assert_uint_eq(list.count, 2);
    ck_assert_double_eq(list.items[0].dial, 4);
    ck_assert(list.items[0].feed_mm_per_min == 1000.0 * 4 / 3);
    calibration_list_free(&list);
    ck_assert_int_eq(setting_set(book, "units", "inch", &e), 0);
    gone(journal_undo, 3);
    ck_assert_int_eq(setting_set(book, "welder", "Ann", &e), 0);
    gone(journal_redo, 3);
    scratch_units_are(book, "inch");
}
END_TEST

START_TEST(coupons_made_together_are_one_row_and_one_change)
{
    struct coupon c;

    ck_assert_int_eq(book_begin(book, &e), 0);
    journal_name(book, "import of 20");
    for (int i = 0; i < 20; i++) {
        c = saved();
        coupon_free(&c);
    }
    ck_assert_int_eq(book_commit(book, &e), 0);
    scratch_same_text(at.book, "SELECT group_concat(id || ' ' || last_id) FROM touched", "1 20");
    scratch_same_text(at.book,
                      "SELECT group_concat(what || ' ' || bench || ' ' || who) FROM change",
                      "import of 20 bench 1 Ann");
    for (int i = 0; i < 2; i++) {
        gone(journal_undo, 0);
        ck_assert_int_eq(coupons(), 0);
        reopen("bench 1");
        gone(journal_redo, 0);
        ck_assert_int_eq(coupons(), 20);
        scratch_sound(at.book);
    }
}
END_TEST

START_TEST(what_came_later_has_to_go_first)
{
    struct coupon c = saved();

    note(1, "one");
    note(1, "two");
    refused(journal_undo, 2,
            "change 3 (coupon of coupon 01) is about the same thing and came later; undo that");
    refused(journal_undo, 1,
            "change 3 (coupon of coupon 01) is about the same thing and came later");
    refused(journal_undo, 7, "there is no change number 7");
    refused(journal_redo, 2, "change 2 (coupon of coupon 01) is not undone");
    gone(journal_undo, 3);
    refused(journal_undo, 3, "change 3 (coupon of coupon 01) is undone already");
    gone(journal_undo, 2);
    refused(journal_redo, 3,
            "change 2 (coupon of coupon 01) is about the same thing and was undone later;"
            " redo that one first");
    has_note(1, c.note);
    note(1, "three");
    refused(journal_redo, 2,
            "change 4 (coupon of coupon 01) is about the same thing and came later");
    has_note(1, "three");
    coupon_free(&c);
}
END_TEST

START_TEST(several_are_undone_and_redone_in_order)
{
    struct coupon c = saved();

    note(1, "one");
    ck_assert_int_eq(setting_set(book, "units", "inch", &e), 0);
    note(1, "two");
    for (int64_t i = 4; i > 0; i--) {
        ck_assert_int_eq(gone(journal_undo, 0), i);
        reopen("bench 1");
    }
    ck_assert_int_eq(coupons(), 0);
    for (int64_t i = 1; i <= 4; i++) {
        ck_assert_int_eq(gone(journal_redo, 0), i);
        reopen("bench 1");
    }
    has_note(1, "two");
    scratch_units_are(book, "inch");
    coupon_free(&c);
}
END_TEST

START_TEST(a_bench_undoes_what_it_did_itself)
{
    struct coupon c = saved(), other;

    reopen("bench 2");
    refused(journal_undo, 0, "there is nothing to undo that was done at this bench");
    other = saved();
    reopen("bench 1");
    ck_assert_int_eq(gone(journal_undo, 0), 1);
    reopen("bench 2");
    refused(journal_redo, 0, "there is nothing to redo that was undone at this bench");
    ck_assert_int_eq(gone(journal_redo, 1), 1); /* by its number anybody may */
    ck_assert_int_eq(gone(journal_undo, 0), 2);
    has_note(1, c.note);
    coupon_free(&c);
    coupon_free(&other);
}
END_TEST

START_TEST(a_copy_from_before_an_undo_is_outdated)
{
    struct coupon c = saved(), second;

    note(1, "one");
    second = scratch_load(book, 1);
    gone(journal_undo, 0);
    ck_assert_int_lt(coupon_save(book, &second, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "coupon 01 was changed by another program"));
    ck_assert_int_lt(coupon_save(book, &c, &e), 0); /* the same state, but not the same revision */
    gone(journal_redo, 0);
    ck_assert_int_lt(coupon_save(book, &second, &e), 0);
    has_note(1, "one");
    gone(journal_undo, 0);
    gone(journal_undo, 0);
    ck_assert_int_lt(coupon_save(book, &second, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "not in the book"));
    gone(journal_redo, 0);
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    coupon_free(&second);
    coupon_free(&c);
}
END_TEST

START_TEST(the_journal_is_listed)
{
    struct change_list list = {0};
    struct coupon c;

    ck_assert_int_eq(book_begin(book, &e), 0);
    journal_name(book, "log 01 to 03");
    for (int i = 0; i < 3; i++) {
        c = saved();
        coupon_free(&c);
    }
    ck_assert_int_eq(book_commit(book, &e), 0);
    note(2, "one");
    note(3, "two");
    gone(journal_undo, 0);
    ck_assert_int_eq(journal_list(book, 2, 10, &list, &e), 0);
    ck_assert_uint_eq(list.count, 2);
    ck_assert_int_eq(list.items[0].number, 1);
    ck_assert_str_eq(list.items[0].what, "log 01 to 03");
    ck_assert_str_eq(list.items[0].bench, "bench 1");
    ck_assert_str_eq(list.items[0].who, "Ann");
    ck_assert_int_gt(list.items[0].when.utc_ms, 1700000000000);
    ck_assert_int_eq(list.items[1].number, 2);
    change_list_free(&list);
    ck_assert_int_eq(journal_list(book, 0, 2, &list, &e), 0);
    ck_assert_uint_eq(list.count, 2);
    ck_assert(list.items[0].number == 2 && !list.items[0].undone);
    ck_assert(list.items[1].number == 3 && list.items[1].undone);
    change_list_free(&list);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/journal");
    TCase *t = tcase_create("journal");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 900);
    tcase_add_test(t, a_new_coupon_goes_and_comes_back_whole);
    tcase_add_test(t, a_changed_coupon_is_as_before_and_as_after);
    tcase_add_test(t, striking_out_and_restoring_are_undone);
    tcase_add_test(t, every_digit_survives);
    tcase_add_test(t, a_trial_with_its_levels);
    tcase_add_test(t, a_trial_that_has_coupons_stays);
    tcase_add_test(t, an_own_variable);
    tcase_add_test(t, an_own_variable_that_coupons_use_stays);
    tcase_add_test(t, an_own_variable_goes_with_the_coupons_it_came_with);
    tcase_add_test(t, a_setting);
    tcase_add_test(t, a_calibration);
    tcase_add_test(t, coupons_made_together_are_one_row_and_one_change);
    tcase_add_test(t, what_came_later_has_to_go_first);
    tcase_add_test(t, several_are_undone_and_redone_in_order);
    tcase_add_test(t, a_bench_undoes_what_it_did_itself);
    tcase_add_test(t, a_copy_from_before_an_undo_is_outdated);
    tcase_add_test(t, the_journal_is_listed);
    suite_add_tcase(s, t);
    return s;
}
