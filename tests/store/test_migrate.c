/* Bringing books up to date: one test for each step, old books, and steps that go wrong. */
#include "run.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/calibrations.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/open.h"
#include "store/settings.h"
#include "store/trials.h"
#include "store/variables.h"

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

static void never(void *ctx, const char *line)
{
    (void)ctx;
    fprintf(stderr, "fault: %s\n", line);
}

/* A book as an earlier release wrote it, from its dump in fixtures/books. */
static void old_book(const char *name)
{
    char *path = mem_format(FIXTURES_FOLDER "/books/%s", name);
    struct bytes dump = scratch_read(path);

    ck_assert_int_eq(scratch_sql(at.book, (const char *)dump.data), SQLITE_OK);
    free(dump.data);
    free(path);
}

/* The program's own steps and others behind them, in an array of the caller. */
enum { MOST_STEPS = 32 };

static struct schema with_steps(struct schema_step steps[MOST_STEPS],
                                const struct schema_step *more, size_t count)
{
    ck_assert_uint_le(schema_step_count + count, MOST_STEPS);
    memcpy(steps, schema_steps, schema_step_count * sizeof *steps);
    for (size_t i = 0; i < count; i++) {
        steps[schema_step_count + i] = more[i];
        steps[schema_step_count + i].number = (int)(schema_step_count + i + 1);
    }
    return (struct schema){steps, schema_step_count + count};
}

static const struct schema_step good_step = {
    0, "good",
    "ALTER TABLE coupon ADD COLUMN shift TEXT; UPDATE coupon SET shift = 'day' WHERE mark > '02';"};

START_TEST(the_steps_make_an_empty_book)
{
    char *tables;

    book_close(scratch_open(at.book, BOOK_CREATE));
    tables = scratch_text(at.book, "SELECT group_concat(name, ' ') FROM (SELECT name FROM"
                                   " sqlite_schema WHERE type = 'table' ORDER BY name)");
    ck_assert_str_eq(tables, "arc bend calibration change coupon decision face flaw lesson machine"
                             " own_variable pass photo plan plan_coupon plan_level plan_never"
                             " plan_variable price procedure procedure_coupon procedure_value"
                             " setting sqlite_sequence stock touched trial trial_block trial_level"
                             " trial_variable value variable");
    free(tables);
    ck_assert_int_eq(scratch_count(at.book, "PRAGMA user_version"), 2);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM change"), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 0);
}
END_TEST

static void old_coupons_are_there(struct book *book)
{
    struct coupon_list list = {0};
    struct coupon whole;

    ck_assert_int_eq(coupons_load(book, NULL, true, &list, &e), 0);
    ck_assert_uint_eq(list.count, 3);
    scratch_coupon(&whole);
    memcpy(whole.trial, list.items[0].trial, sizeof whole.trial);
    scratch_same_coupon(&whole, &list.items[0]);
    ck_assert_str_eq(list.items[0].mark, "A01");
    ck_assert_int_eq(list.items[0].revision, 2);
    ck_assert_str_eq(list.items[1].struck_why, "wrong plate");
    ck_assert_double_eq(coupon_value(&list.items[2], "rust_left")->measure.low, 1.0 / 3);
    coupon_free(&whole);
    coupon_list_free(&list);
}

static void old_rest_is_there(struct book *book)
{
    struct variable_list variables;
    struct calibration_list feeds = {0};
    struct trial t;
    char *letter;

    ck_assert_int_eq(trial_load(book, "thin plate", &t, &e), 0);
    ck_assert_str_eq(t.question, "Does cleaning matter?");
    ck_assert_double_eq(t.stop_deg, 135);
    ck_assert_uint_eq(t.set_count, 2);
    ck_assert_str_eq(t.sets[0].variable, "thickness");
    ck_assert_str_eq(t.sets[0].levels[1], "6 mm");
    trial_free(&t);
    variable_list_init(&variables);
    ck_assert_int_eq(own_variables_load(book, &variables, &e), 0);
    ck_assert_str_eq(variable_find(&variables, "rust_left")->label, "Rust left");
    variable_list_free(&variables);
    ck_assert_int_eq(setting_get(book, "bench_letter", &letter, &e), 0);
    ck_assert_str_eq(letter, "A");
    free(letter);
    ck_assert_int_eq(calibrations_load(book, "mig 200", &feeds, &e), 0);
    ck_assert_uint_eq(feeds.count, 2);
    ck_assert_double_eq(feeds.items[1].feed_mm_per_min, 5334);
    calibration_list_free(&feeds);
}

START_TEST(a_book_of_schema_1_opens_and_reads)
{
    struct book *book;

    old_book("schema-1.sql");
    book = scratch_open(at.book, BOOK_WRITE);
    old_coupons_are_there(book);
    old_rest_is_there(book);
    ck_assert_msg(book_check(book, never, NULL, &e) == 0, "%s", e.text);
    book_close(book);
}
END_TEST

/* Columns of schema 1 by what they are called now. Each
 * statement gives a row that is in one book and not in the other. */
#define COUPON_OF "(SELECT c.id FROM o.coupon AS c WHERE c.sequence = n.coupon_id)"
static const struct {
    const char *before, *after;
} moved[] = {
    {"SELECT id, revision, sequence, trial_id, mark, when_utc_ms, when_offset_min, who, note,"
     " struck_why, struck_utc_ms, struck_offset_min FROM o.coupon",
     "SELECT n.uuid, n.revision, n.id, t.uuid, mark, n.when_utc_ms, n.when_offset_min, who, n.note,"
     " n.struck_why, n.struck_utc_ms, n.struck_offset_min FROM main.coupon AS n"
     " LEFT JOIN main.trial AS t ON t.id = n.trial_id"},
    {"SELECT * FROM o.trial",
     "SELECT uuid, revision, name, question, result, stop_deg, when_utc_ms, when_offset_min, note"
     " FROM main.trial"},
    {"SELECT * FROM o.trial_variable",
     "SELECT t.uuid, number, variable FROM main.trial_variable JOIN main.trial AS t ON"
     " t.id = trial_id"},
    {"SELECT * FROM o.trial_level",
     "SELECT t.uuid, variable, number, level FROM main.trial_level JOIN main.trial AS t ON"
     " t.id = trial_id"},
    {"SELECT * FROM o.variable",
     "SELECT v.key, revision, label, iif(role = 'set', 'cause', role), kind, dimension, n.unit, "
     "least,"
     " most, usual_low, usual_high, choices, choices_only, scale, help, when_utc_ms,"
     " when_offset_min FROM main.own_variable AS n JOIN main.variable AS v ON v.id = n.id"},
    {"SELECT * FROM o.value",
     "SELECT " COUPON_OF ", v.key, coalesce(n.kind, iif(low IS NULL, 'category', 'exact')), low,"
     " iif(n.kind IS NULL, low, high), iif(n.kind IS NULL AND low IS NULL, words, NULL),"
     " iif(n.kind IS NULL AND low IS NULL, NULL, iif(words = '',"
     " printf('%.15g', low) || coalesce(iif(v.unit = '°', '', ' ') || v.unit, ''), words)) FROM "
     "main.value AS n JOIN main.variable AS v ON"
     " v.id = n.variable_id"},
    {"SELECT * FROM o.pass",
     "SELECT " COUPON_OF ", number, side, arc_s, length_mm, volts, amps, feed_mm_per_min, start_c,"
     " pause_s FROM main.pass AS n"},
    {"SELECT * FROM o.bend",
     "SELECT " COUPON_OF ", ended, direction, before_deg, after_deg, before_gap_mm, after_gap_mm,"
     " leg_mm, former_mm, inside_radius_mm, first_crack_deg, load_n, lever_mm FROM main.bend AS n"},
    {"SELECT * FROM o.face", "SELECT " COUPON_OF ", bead_mm, complete FROM main.face AS n"},
    {"SELECT * FROM o.flaw",
     "SELECT " COUPON_OF ", number, from_mm, to_mm, iso6520, note FROM main.flaw AS n"},
    {"SELECT * FROM o.photo",
     "SELECT " COUPON_OF ", number, path, sha256, note FROM main.photo AS n"},
    {"SELECT * FROM o.setting", "SELECT key, revision, value FROM main.setting"},
    {"SELECT * FROM o.calibration",
     "SELECT uuid, machine, dial, feed_mm_per_min, when_utc_ms, when_offset_min, note, struck_why,"
     " struck_utc_ms, struck_offset_min FROM main.calibration"},
    {"SELECT replaced_utc_ms, replaced_offset_min, revision, kind FROM o.history",
     "SELECT when_utc_ms, when_offset_min, t.state ->> 'revision', iif(t.kind = 'own_variable',"
     " 'variable', t.kind) FROM main.change AS c JOIN main.touched AS t ON t.change_id = c.id"},
};

START_TEST(step_2_takes_every_row_and_column_over)
{
    const char *old = scratch_file(&at, "old");
    struct bytes whole;
    char *attach = mem_format("ATTACH '%s' AS o", old);
    sqlite3 *db;

    old_book("schema-1.sql");
    whole = scratch_read(at.book);
    scratch_write(old, whole.data, whole.size);
    free(whole.data);
    book_close(scratch_open(at.book, BOOK_WRITE));
    ck_assert_int_eq(sqlite3_open(at.book, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, attach, NULL, NULL, NULL), SQLITE_OK);
    for (size_t i = 0; i < sizeof moved / sizeof *moved; i++) {
        char *sql = mem_format("SELECT * FROM (SELECT * FROM (%s) EXCEPT SELECT * FROM (%s))"
                               " UNION ALL SELECT * FROM (SELECT * FROM (%s) EXCEPT SELECT * FROM"
                               " (%s))",
                               moved[i].before, moved[i].after, moved[i].after, moved[i].before);
        sqlite3_stmt *stmt;

        ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &stmt, NULL) == SQLITE_OK, "%s",
                      sqlite3_errmsg(db));
        ck_assert_msg(sqlite3_step(stmt) == SQLITE_DONE, "%s: %s", moved[i].before,
                      (const char *)sqlite3_column_text(stmt, 0));
        sqlite3_finalize(stmt);
        free(sql);
    }
    sqlite3_close(db);
    free(attach);
}
END_TEST

static void undone(struct book *book, int64_t number)
{
    struct change change;

    ck_assert_msg(journal_undo(book, number, &change, &e) == 0, "%s", e.text);
    change_free(&change);
}

/* The first coupon of the fixture was bent to 200° before it was changed to 225.5°. */
START_TEST(what_schema_1_had_kept_can_be_undone)
{
    struct coupon whole, c;
    struct book *book;
    struct trial t;
    char *units;

    old_book("schema-1.sql");
    book = scratch_open(at.book, BOOK_WRITE);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM change WHERE bench IS NULL"), 5);
    for (int64_t number = 5; number > 0; number--)
        undone(book, number);
    scratch_coupon(&whole);
    whole.bend.after_deg = 200;
    ck_assert_int_eq(coupon_load(book, NULL, "A01", &c, &e), 0);
    memcpy(whole.trial, c.trial, sizeof whole.trial);
    ck_assert_str_ne(c.trial, "");
    scratch_same_coupon(&whole, &c);
    coupon_free(&c);
    coupon_free(&whole);
    ck_assert_int_eq(coupon_load(book, NULL, "A02", &c, &e), 0);
    ck_assert_ptr_null(c.struck_why);
    ck_assert_str_eq(coupon_value(&c, "helper")->text, "none");
    coupon_free(&c);
    ck_assert_int_eq(trial_load(book, "thin plate", &t, &e), 0);
    ck_assert_uint_eq(t.set_count, 2);
    ck_assert_str_eq(t.sets[0].levels[0], "3 mm");
    trial_free(&t);
    ck_assert_int_eq(setting_get(book, "units", &units, &e), 0);
    ck_assert_str_eq(units, "inch");
    free(units);
    ck_assert_int_eq(scratch_count(at.book, "SELECT usual_high FROM own_variable AS o JOIN variable"
                                            " AS v ON v.id = o.id WHERE v.key = 'rust_left'"),
                     50);
    ck_assert_msg(book_check(book, never, NULL, &e) == 0, "%s", e.text);
    book_close(book);
}
END_TEST

START_TEST(a_step_is_done_once_and_keeps_what_is_there)
{
    struct schema_step steps[MOST_STEPS];
    struct schema schema = with_steps(steps, &good_step, 1);
    struct book *book;

    old_book("schema-1.sql");
    for (int i = 0; i < 2; i++) {
        ck_assert_msg(book_open_schema(&book, at.book, BOOK_WRITE, &schema, &e) == 0, "%s", e.text);
        old_coupons_are_there(book);
        old_rest_is_there(book);
        book_close(book);
    }
    ck_assert_int_eq(scratch_count(at.book, "PRAGMA user_version"), 3);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon WHERE shift = 'day'"), 3);
    scratch_refused(at.book, BOOK_WRITE, "made by a newer coldlap");
}
END_TEST

/* What a later step adds is kept in the journal as well. */
START_TEST(the_journal_keeps_new_columns)
{
    struct schema_step steps[MOST_STEPS];
    struct schema schema = with_steps(steps, &good_step, 1);
    struct book *book;
    struct coupon c;

    old_book("schema-1.sql");
    ck_assert_int_eq(book_open_schema(&book, at.book, BOOK_WRITE, &schema, &e), 0);
    ck_assert_int_eq(coupon_load(book, NULL, "A03", &c, &e), 0);
    coupon_set_category(&c, "wire", "another");
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    coupon_free(&c);
    book_close(book);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM touched"
                                            " WHERE state ->> 'shift' = 'day'"),
                     1);
}
END_TEST

/* A name is a name, whatever is in it. */
START_TEST(the_journal_keeps_columns_of_any_name)
{
    static const struct schema_step odd = {
        0, "odd",
        "ALTER TABLE coupon ADD COLUMN \"a\"\"'b\" TEXT; ALTER TABLE coupon ADD COLUMN"
        " \"x\"\", 'y%s\" REAL; UPDATE coupon SET \"a\"\"'b\" = 'one', \"x\"\", 'y%s\" = 1.5;"};
    struct schema_step steps[MOST_STEPS];
    struct schema schema = with_steps(steps, &odd, 1);
    struct book *book;
    struct coupon c;

    old_book("schema-1.sql");
    ck_assert_int_eq(book_open_schema(&book, at.book, BOOK_WRITE, &schema, &e), 0);
    ck_assert_int_eq(coupon_load(book, NULL, "A03", &c, &e), 0);
    coupon_set_category(&c, "wire", "another");
    ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
    coupon_free(&c);
    book_close(book);
    ck_assert_int_eq(scratch_count(at.book,
                                   "SELECT count(*) FROM touched, json_each(state) AS j WHERE"
                                   " (j.key = 'a\"''b' AND j.value = 'one') OR"
                                   " (j.key = 'x\", ''y%s' AND j.value = 1.5)"),
                     2);
}
END_TEST

static void step_fails(const char *sql, const char *words)
{
    struct schema_step steps[MOST_STEPS], more[] = {good_step, {0, "bad", sql}};
    struct schema schema = with_steps(steps, more, 2);
    char *before, *after;
    struct book *book;

    before = scratch_text(at.book, "SELECT group_concat(sql || name, ';') FROM sqlite_schema");
    ck_assert_int_lt(book_open_schema(&book, at.book, BOOK_WRITE, &schema, &e), 0);
    ck_assert_ptr_null(book);
    ck_assert_msg(strstr(e.text, "bringing the book to schema 4") != NULL, "%s", e.text);
    ck_assert_msg(strstr(e.text, words) != NULL && one_line(&e), "%s", e.text);
    ck_assert_int_eq(scratch_count(at.book, "PRAGMA user_version"), 3);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon WHERE shift = 'day'"), 3);
    after = scratch_text(at.book, "SELECT group_concat(sql || name, ';') FROM sqlite_schema");
    ck_assert_str_ne(before, after); /* the good step was done */
    free(before);
    free(after);
}

START_TEST(a_step_that_fails_leaves_the_book_at_the_step_before)
{
    old_book("schema-1.sql");
    step_fails("UPDATE coupon SET shift = 'night'; CREATE TABLE half (x TEXT);"
               " INSERT INTO nowhere VALUES (1);",
               "no such table: nowhere");
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM sqlite_schema"
                                            " WHERE name = 'half'"),
                     0);
}
END_TEST

START_TEST(a_step_that_breaks_references_is_undone)
{
    old_book("schema-1.sql");
    step_fails("UPDATE value SET coupon_id = 77 WHERE coupon_id = 1;",
               "rows refer to others that are not there");
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM value"
                                            " WHERE coupon_id = 77"),
                     0);
}
END_TEST

START_TEST(several_programs_bring_a_book_up_to_date_at_once)
{
    enum { PROGRAMS = 6 };
    struct schema_step steps[MOST_STEPS];
    struct schema schema = with_steps(steps, &good_step, 1);
    pid_t children[PROGRAMS];

    old_book("schema-1.sql");
    for (int i = 0; i < PROGRAMS; i++) {
        children[i] = fork();
        ck_assert_int_ge(children[i], 0);
        if (children[i] == 0) {
            struct book *book;

            if (book_open_schema(&book, at.book, BOOK_WRITE, &schema, &e) < 0) {
                fprintf(stderr, "%s\n", e.text);
                _exit(1);
            }
            book_close(book);
            _exit(0);
        }
    }
    for (int i = 0; i < PROGRAMS; i++) {
        int status;

        ck_assert_int_eq(waitpid(children[i], &status, 0), children[i]);
        ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    ck_assert_int_eq(scratch_count(at.book, "PRAGMA user_version"), 3);
}
END_TEST

/* On a stick with its lock on, say: read as a book of today, and left as it is. */
START_TEST(an_old_book_that_cannot_be_written_is_read)
{
    struct schema_step steps[MOST_STEPS];
    struct schema schema = with_steps(steps, &good_step, 1);
    struct bytes before;
    struct book *book;
    pid_t child;
    int status;

    old_book("schema-1.sql");
    before = scratch_read(at.book);
    chmod(at.book, 0444);
    chmod(at.dir, 0555);
    child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        struct coupon c;

        if (geteuid() == 0 && setuid(65534) != 0)
            _exit(9);
        if (book_open_schema(&book, at.book, BOOK_WRITE, &schema, &e) < 0 ||
            coupon_load(book, NULL, "A01", &c, &e) < 0) {
            fprintf(stderr, "%s\n", e.text);
            _exit(1);
        }
        if (coupon_save(book, &c, &e) == 0 ||
            strstr(e.text, "the file can only be read; nothing of this was stored") == NULL)
            _exit(2);
        coupon_free(&c);
        book_close(book);
        _exit(0);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "%d", status);
    ck_assert(scratch_same_bytes(before, scratch_read(at.book)));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/migrate");
    TCase *t = tcase_create("migrate");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, the_steps_make_an_empty_book);
    tcase_add_test(t, a_book_of_schema_1_opens_and_reads);
    tcase_add_test(t, step_2_takes_every_row_and_column_over);
    tcase_add_test(t, what_schema_1_had_kept_can_be_undone);
    tcase_add_test(t, a_step_is_done_once_and_keeps_what_is_there);
    tcase_add_test(t, the_journal_keeps_new_columns);
    tcase_add_test(t, the_journal_keeps_columns_of_any_name);
    tcase_add_test(t, a_step_that_fails_leaves_the_book_at_the_step_before);
    tcase_add_test(t, a_step_that_breaks_references_is_undone);
    tcase_add_test(t, several_programs_bring_a_book_up_to_date_at_once);
    tcase_add_test(t, an_old_book_that_cannot_be_written_is_read);
    suite_add_tcase(s, t);
    return s;
}
