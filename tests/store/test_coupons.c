#include "run.h"

#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/settings.h"
#include "store/trials.h"

static struct scratch at;
static struct book *book;
static struct error e;

static void set_up(void)
{
    scratch_make(&at);
    book = scratch_open(at.book, BOOK_CREATE);
    e = (struct error){0};
}

static void tear_down(void)
{
    book_close(book);
    scratch_remove(&at);
}

static void save(struct coupon *c)
{
    if (coupon_save(book, c, &e) < 0)
        ck_abort_msg("%s", e.text);
}

/* A stored coupon with this mark and nothing else. */
static struct coupon plain(const char *mark)
{
    struct coupon c;

    coupon_init(&c);
    c.mark = mem_copy(mark);
    save(&c);
    return c;
}

START_TEST(a_coupon_comes_back_bit_for_bit)
{
    struct coupon put, got;

    scratch_coupon(&put);
    save(&put);
    ck_assert_uint_eq(strlen(put.id), ID_SIZE - 1);
    ck_assert_str_eq(put.mark, "01");
    ck_assert_int_eq(put.sequence, 1);
    ck_assert_int_eq(put.revision, 1);
    book_close(book);
    book = scratch_open(at.book, BOOK_READ);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &got, &e), 0);
    scratch_same_coupon(&put, &got);
    ck_assert_str_eq(got.id, put.id);
    ck_assert_int_eq(got.sequence, 1);
    ck_assert_int_eq(got.revision, 1);
    coupon_free(&put);
    coupon_free(&got);
}
END_TEST

/* Of a number in its own unit the entry goes without saying; any other is kept whole. */
START_TEST(an_entry_comes_back_as_it_was_typed)
{
    static const char *const entries[] = {"21.5",    "21.5 V", "21.50 V", "21.5V",  " 21.5 V",
                                          " V",      "",       " ",       "21.5  ", "43/2 V",
                                          "+21.5 V", "21.5 ",  "215e-1"};

    for (size_t i = 0; i < sizeof entries / sizeof *entries; i++) {
        struct coupon put, got;

        coupon_init(&put);
        coupon_set_number(&put, "volts", measure_exact(21.5), entries[i]);
        save(&put);
        ck_assert_int_eq(coupon_load_number(book, put.sequence, &got, &e), 0);
        if (entries[i][0] == '\0')
            ck_assert_ptr_null(coupon_value(&got, "volts")->text);
        else
            ck_assert_str_eq(coupon_value(&got, "volts")->text, entries[i]);
        coupon_free(&got);
        coupon_free(&put);
    }
}
END_TEST

START_TEST(an_empty_coupon_stays_empty)
{
    struct coupon put, got;

    coupon_init(&put);
    save(&put);
    ck_assert_int_gt(put.when.utc_ms, 1700000000000);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &got, &e), 0);
    scratch_same_coupon(&put, &got);
    ck_assert(isnan(got.bead_mm));
    ck_assert_int_eq(got.bend.end, BEND_NOT_DONE);
    ck_assert_int_eq(scratch_count(at.book, "SELECT (SELECT count(*) FROM bend) +"
                                            " (SELECT count(*) FROM face)"),
                     0);
    coupon_free(&put);
    coupon_free(&got);
}
END_TEST

START_TEST(each_earlier_state_of_a_coupon_is_kept)
{
    struct coupon c;

    scratch_coupon(&c);
    save(&c);
    coupon_unset(&c, "joint");
    save(&c);
    ck_assert_int_eq(coupon_strike(book, &c, "bent before", &e), 0);
    ck_assert_int_eq(coupon_restore(book, &c, &e), 0);
    scratch_same_text(at.book,
                      "SELECT group_concat((state ->> 'revision') || (EXISTS (SELECT 1 FROM"
                      " json_each(state, '$.value') AS j JOIN variable AS v ON v.id ="
                      " j.value ->> 'variable_id' WHERE v.key = 'joint')) ||"
                      " coalesce(state ->> 'struck_why', '-') ||"
                      " (when_utc_ms > 1700000000000), ' ')"
                      " FROM (SELECT * FROM touched AS t JOIN change AS c ON c.id = t.change_id"
                      " WHERE t.kind = 'coupon' AND t.id = 1 AND state IS NOT NULL ORDER BY c.id)",
                      "11-1 20-1 30bent before1");
    ck_assert_int_eq(scratch_count(at.book, "SELECT revision FROM coupon"), 4);
    ck_assert_int_lt(coupon_save(book, &c, &e), 0); /* which was loaded at 2 */
    coupon_free(&c);
}
END_TEST

START_TEST(a_changed_coupon_is_replaced_whole_and_its_past_kept)
{
    struct coupon c, got;

    scratch_coupon(&c);
    save(&c);
    coupon_unset(&c, "joint");
    coupon_set_number(&c, "thickness", measure_exact(3), NULL);
    c.pass_count = 1;
    c.bend.end = BEND_BROKE;
    free(c.flaws[1].note);
    c.flaw_count = 1;
    save(&c);
    ck_assert_int_eq(c.revision, 2);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &got, &e), 0);
    scratch_same_coupon(&c, &got);
    ck_assert_int_eq(got.revision, 2);
    ck_assert_int_eq(scratch_count(at.book,
                                   "SELECT count(*) FROM touched AS t, json_each(state,"
                                   " '$.value') AS v WHERE t.kind = 'coupon'"
                                   " AND state ->> 'revision' = 1 AND v.value ->> 'variable_id' ="
                                   " (SELECT id FROM variable WHERE key = 'thickness')"
                                   " AND v.value ->> 'words' = '5/16 in'"),
                     1);
    ck_assert_int_eq(scratch_count(at.book, "SELECT json_array_length(state, '$.pass')"
                                            " FROM touched WHERE state IS NOT NULL"),
                     3);
    coupon_free(&c);
    coupon_free(&got);
}
END_TEST

/* JSON made by SQLite has 15 digits of a number unless told otherwise; the past needs all 17. */
START_TEST(the_past_keeps_every_digit)
{
    enum { MANY = 300 };
    double x[MANY];
    struct coupon c;
    char key[64], *state;

    coupon_init(&c);
    srand(test_seed(7));
    for (int i = 0; i < MANY; i++) {
        x[i] = (rand() - RAND_MAX / 2) * pow(10, rand() % 40 - 30) / 3;
        snprintf(key, sizeof key, "own%d", i);
        coupon_set_number(&c, key, measure_exact(x[i]), NULL);
    }
    save(&c);
    c.note = mem_copy("changed");
    save(&c);
    state = scratch_text(at.book, "SELECT state FROM touched WHERE state IS NOT NULL");
    for (int i = 0; i < MANY; i++) {
        const char *found;

        snprintf(key, sizeof key, "\"variable_id\":%d,\"low\":", i + 1);
        found = strstr(state, key);
        ck_assert_ptr_nonnull(found);
        ck_assert_msg(strtod(found + strlen(key), NULL) == x[i], "%.17g: %.60s", x[i], found);
    }
    free(state);
    coupon_free(&c);
}
END_TEST

START_TEST(an_outdated_copy_is_refused)
{
    struct coupon mine, theirs;
    long number;
    struct book *other = scratch_open(at.book, BOOK_WRITE);
    long before = book_change_counter(book);

    mine = plain("07");
    ck_assert_int_eq(coupon_load(other, NULL, "07", &theirs, &e), 0);
    ck_assert_int_eq(book_change_counter(book), before);
    theirs.note = mem_copy("seen by the other");
    ck_assert_int_eq(coupon_save(other, &theirs, &e), 0);
    ck_assert_int_ne(book_change_counter(book), before);
    ck_assert_int_lt(coupon_save(book, &mine, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_ptr_nonnull(strstr(e.text, "coupon 07 was changed by another program"));
    ck_assert(one_line(&e));
    ck_assert_int_eq(mine.revision, 1);
    number = mine.sequence;
    coupon_free(&mine);
    ck_assert_int_eq(coupon_load_number(book, number, &mine, &e), 0);
    ck_assert_str_eq(mine.note, "seen by the other");
    coupon_free(&mine);
    coupon_free(&theirs);
    book_close(other);
}
END_TEST

START_TEST(marks_run_on_and_clashes_name_the_holder)
{
    struct coupon a = plain("a7"), b = plain("09"), c;
    char mark[MARK_SIZE];

    ck_assert_int_eq(coupon_next_mark(book, mark, sizeof mark, &e), 0);
    ck_assert_str_eq(mark, "10");
    ck_assert_int_eq(setting_set(book, "bench_letter", "A", &e), 0);
    ck_assert_int_eq(coupon_next_mark(book, mark, sizeof mark, &e), 0);
    ck_assert_str_eq(mark, "A08");
    ck_assert_int_eq(setting_set(book, "bench_letter", "B", &e), 0);
    ck_assert_int_eq(coupon_next_mark(book, mark, sizeof mark, &e), 0);
    ck_assert_str_eq(mark, "B01");

    coupon_init(&c);
    c.when = (struct instant){1772888700000, 60};
    c.mark = mem_copy("A7");
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_msg(strstr(e.text, "the mark A7 is on the coupon a7 of 20") != NULL, "%s", e.text);
    ck_assert_str_eq(c.id, "");
    ck_assert_int_eq(c.revision, 0);
    coupon_free(&a);
    coupon_free(&b);
    coupon_free(&c);
}
END_TEST

/* Two trials may both have a coupon 01; asked for by its mark alone it must be the only one. */
START_TEST(a_mark_is_one_coupon_of_a_trial)
{
    struct trial one, two;
    struct coupon a, b, got;

    trial_init(&one);
    trial_init(&two);
    one.name = mem_copy("tee");
    two.name = mem_copy("lap");
    ck_assert_int_eq(trial_save(book, &one, &e), 0);
    ck_assert_int_eq(trial_save(book, &two, &e), 0);
    coupon_init(&a);
    a.mark = mem_copy("01");
    memcpy(a.trial, one.id, sizeof a.trial);
    coupon_copy(&b, &a);
    memcpy(b.trial, two.id, sizeof b.trial);
    ck_assert_int_eq(coupon_save(book, &a, &e), 0);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &got, &e), 0);
    coupon_free(&got);
    ck_assert_msg(coupon_save(book, &b, &e) == 0, "%s", e.text);
    ck_assert_int_lt(coupon_load(book, NULL, "01", &got, &e), 0);
    ck_assert_msg(strstr(e.text, "2 trials have a coupon 01; put the trial in front") != NULL, "%s",
                  e.text);
    ck_assert_int_eq(coupon_load(book, two.id, "01", &got, &e), 0);
    ck_assert_str_eq(got.id, b.id);
    coupon_free(&got);
    ck_assert_int_lt(coupon_load(book, two.id, "02", &got, &e), 0);
    memcpy(b.trial, one.id, sizeof b.trial); /* moving it would make two of a kind */
    ck_assert_int_lt(coupon_save(book, &b, &e), 0);
    coupon_free(&a);
    coupon_free(&b);
    trial_free(&one);
    trial_free(&two);
}
END_TEST

START_TEST(struck_out_and_back)
{
    struct coupon c = plain("01"), again, got;
    struct coupon_list list = {0};

    ck_assert_int_lt(coupon_strike(book, &c, " ", &e), 0);
    ck_assert_int_eq(coupon_strike(book, &c, "wrong plate", &e), 0);
    ck_assert_int_lt(coupon_strike(book, &c, "twice", &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "struck out already"));
    ck_assert_int_eq(coupons_load(book, NULL, false, &list, &e), 0);
    ck_assert_uint_eq(list.count, 0);
    ck_assert_int_eq(coupons_load(book, NULL, true, &list, &e), 0);
    ck_assert_uint_eq(list.count, 1);
    ck_assert_str_eq(list.items[0].struck_why, "wrong plate");
    coupon_list_free(&list);

    /* its mark is free again for who asks for it, but never given by itself */
    again = plain("01");
    ck_assert_int_lt(coupon_restore(book, &c, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "the mark 01 is on the coupon 01"));
    ck_assert_int_eq(coupon_load(book, NULL, "01", &got, &e), 0);
    ck_assert_str_eq(got.id, again.id);
    coupon_free(&got);

    ck_assert_int_eq(coupon_strike(book, &again, "the other was right", &e), 0);
    ck_assert_int_eq(coupon_restore(book, &c, &e), 0);
    ck_assert_int_lt(coupon_restore(book, &c, &e), 0);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &got, &e), 0);
    ck_assert_str_eq(got.id, c.id);
    ck_assert_ptr_null(got.struck_why);
    ck_assert_int_eq(got.revision, 3);
    coupon_free(&got);
    coupon_free(&c);
    coupon_free(&again);
}
END_TEST

START_TEST(a_struck_out_coupon_can_be_edited_and_stays_struck)
{
    struct coupon c = plain("01"), other;

    ck_assert_int_eq(coupon_strike(book, &c, "wrong plate", &e), 0);
    other = plain("01");
    ck_assert_int_eq(coupon_strike(book, &other, "also wrong", &e), 0);
    coupon_free(&c);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &c, &e), 0);
    ck_assert_str_eq(c.id, other.id); /* the one struck out last */
    c.note = mem_copy("plate was 5 mm");
    save(&c);
    coupon_free(&c);
    ck_assert_int_eq(coupon_load(book, NULL, "01", &c, &e), 0);
    ck_assert_str_eq(c.struck_why, "also wrong");
    ck_assert_str_eq(c.note, "plate was 5 mm");
    coupon_free(&c);
    coupon_free(&other);
}
END_TEST

/* Codes this program never writes, the first of a row and the last. */
static const struct {
    const char *sql, *table;
} unknown_codes[] = {
    {"UPDATE bend SET ended = 'melted'", "bend"},
    {"UPDATE bend SET direction = 'up'", "bend"},
    {"UPDATE value SET kind = 'about' WHERE low = 7.9375", "value"},
};

START_TEST(an_unknown_code_is_damage)
{
    char *sql = mem_format("PRAGMA ignore_check_constraints = ON; %s", unknown_codes[_i].sql);
    char *line = mem_format("the book is damaged: %s", unknown_codes[_i].table);
    struct coupon c, got;

    scratch_coupon(&c);
    save(&c);
    ck_assert_int_eq(scratch_sql(at.book, sql), SQLITE_OK);
    ck_assert_int_lt(coupon_load(book, NULL, "01", &got, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_msg(strstr(e.text, line) != NULL, "%s", e.text);
    coupon_free(&got);
    coupon_free(&c);
    free(line);
    free(sql);
}
END_TEST

START_TEST(bad_coupons_are_refused_whole)
{
    struct coupon c;

    scratch_coupon(&c);
    c.passes[1].number = 5;
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_ptr_nonnull(
        strstr(e.text, "numbered 1, 2, 3 …: number 5 stands in place 2; nothing of this"));
    c.passes[1].number = 2;
    c.passes[2].arc_s = -1;
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_msg(strstr(e.text,
                         "coupon 01: pass 3: the book does not take this: the arc time of a "
                         "pass is 0 s to 100000 s; nothing of this was stored") != NULL,
                  "%s", e.text);
    c.passes[2].arc_s = INFINITY;
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    c.passes[2].arc_s = 1;
    c.flaws[0].to_mm = -3;
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "flaw 1: "));
    c.flaws[0].to_mm = 3;
    free(c.note);
    c.note = mem_copy("\033[2J");
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "the note has control characters"));
    free(c.note);
    c.note = NULL;
    snprintf(c.trial, sizeof c.trial, "01a00000-0000-7000-8000-000000000000");
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "not in the book"));
    c.trial[0] = '\0';
    c.mark = mem_copy(" x");
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "a mark is 1 to 32 characters"));
    ck_assert(one_line(&e));
    ck_assert_int_eq(scratch_count(at.book, "SELECT (SELECT count(*) FROM coupon) +"
                                            " (SELECT count(*) FROM value) +"
                                            " (SELECT count(*) FROM pass)"),
                     0);
    coupon_free(&c);
}
END_TEST

START_TEST(coupons_come_in_order_and_by_trial)
{
    struct coupon_list list = {0};
    struct trial t;

    trial_init(&t);
    t.name = mem_copy("thin");
    ck_assert_int_eq(trial_save(book, &t, &e), 0);
    for (int i = 0; i < 20; i++) {
        struct coupon c;

        scratch_coupon(&c);
        if (i % 2 == 0)
            memcpy(c.trial, t.id, sizeof c.trial);
        coupon_set_number(&c, "volts", measure_exact(10 + i), NULL);
        save(&c);
        coupon_free(&c);
    }
    ck_assert_int_eq(coupons_load(book, t.id, false, &list, &e), 0);
    ck_assert_uint_eq(list.count, 10);
    for (size_t i = 0; i < list.count; i++) {
        ck_assert_int_eq(list.items[i].sequence, 2 * (long)i + 1);
        ck_assert_double_eq(coupon_value(&list.items[i], "volts")->measure.low, 10 + 2 * (double)i);
        ck_assert_uint_eq(list.items[i].pass_count, 3);
        ck_assert_uint_eq(list.items[i].flaw_count, 2);
        ck_assert_uint_eq(list.items[i].photo_count, 1);
    }
    coupon_list_free(&list);
    ck_assert_int_eq(coupons_load(book, NULL, false, &list, &e), 0);
    ck_assert_uint_eq(list.count, 20);
    coupon_list_free(&list);
    trial_free(&t);
}
END_TEST

START_TEST(several_saves_go_in_together_or_not_at_all)
{
    struct coupon a, bad;

    ck_assert_int_eq(book_begin(book, &e), 0);
    a = plain("01");
    coupon_free(&a);
    book_rollback(book);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 0);

    ck_assert_int_eq(book_begin(book, &e), 0);
    a = plain("01");
    scratch_coupon(&bad);
    bad.passes[2].volts = -5; /* the last of its rows to fail: the earlier ones must go as well */
    ck_assert_int_lt(coupon_save(book, &bad, &e), 0);
    ck_assert_int_eq(book_commit(book, &e), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 1);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM value"), 0);
    coupon_free(&a);
    coupon_free(&bad);
}
END_TEST

START_TEST(a_missing_coupon_is_named)
{
    struct coupon c;

    ck_assert_int_lt(coupon_load(book, NULL, "42", &c, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_ptr_nonnull(strstr(e.text, "there is no coupon 42"));
    ck_assert_int_lt(coupon_strike(book, &c, "why", &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "not in the book"));
    coupon_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/coupons");
    TCase *t = tcase_create("coupons");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, a_coupon_comes_back_bit_for_bit);
    tcase_add_test(t, an_entry_comes_back_as_it_was_typed);
    tcase_add_test(t, an_empty_coupon_stays_empty);
    tcase_add_test(t, a_changed_coupon_is_replaced_whole_and_its_past_kept);
    tcase_add_test(t, the_past_keeps_every_digit);
    tcase_add_test(t, each_earlier_state_of_a_coupon_is_kept);
    tcase_add_test(t, an_outdated_copy_is_refused);
    tcase_add_test(t, marks_run_on_and_clashes_name_the_holder);
    tcase_add_test(t, struck_out_and_back);
    tcase_add_test(t, a_mark_is_one_coupon_of_a_trial);
    tcase_add_test(t, a_struck_out_coupon_can_be_edited_and_stays_struck);
    tcase_add_loop_test(t, an_unknown_code_is_damage, 0,
                        (int)(sizeof unknown_codes / sizeof unknown_codes[0]));
    tcase_add_test(t, bad_coupons_are_refused_whole);
    tcase_add_test(t, coupons_come_in_order_and_by_trial);
    tcase_add_test(t, several_saves_go_in_together_or_not_at_all);
    tcase_add_test(t, a_missing_coupon_is_named);
    suite_add_tcase(s, t);
    return s;
}
