/* Tasks on a book: coupons found, brought in, handed out, checked. */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/task_book.h"
#include "app/task_coupon.h"
#include "app/task_export.h"
#include "app/task_import.h"
#include "app/task_trial.h"
#include "app/task_variable.h"
#include "base/mem.h"
#include "derived/derived.h"
#include "store/settings.h"

static char folder[32];
static char *path;
static struct session session;
static struct error e;
static struct import_outcome outcome;

static void begin(void)
{
    strcpy(folder, "/tmp/coldlap-task-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/b.coldlap", folder);
    memset(&e, 0, sizeof e);
    ck_assert_int_eq(session_open(&session, path, BOOK_CREATE, &e), 0);
}

static void forget_outcome(void)
{
    page_free(&outcome.notes);
    page_free(&outcome.rows);
    memset(&outcome, 0, sizeof outcome);
}

static void end(void)
{
    char *command = mem_format("rm -r '%s'", folder);

    forget_outcome();
    session_close(&session);
    ck_assert_int_eq(system(command), 0);
    free(command);
    free(path);
}

static int import(const char *csv, const char *trial, bool skip_bad)
{
    struct import_request r = {.trial = trial, .skip_bad = skip_bad, .name = "t.csv"};
    int rc;

    forget_outcome();
    r.in = fmemopen((char *)csv, strlen(csv), "r");
    ck_assert_ptr_nonnull(r.in);
    rc = task_import(&session, &r, &outcome, &e);
    fclose(r.in);
    return rc;
}

static void expect_blocks(const struct page *p, const char *expected)
{
    struct text all = {0};

    for (size_t i = 0; i < p->count; i++)
        text_addf(&all, "%s\n", p->blocks[i].text);
    ck_assert_str_eq(text_str(&all), expected);
    text_free(&all);
}

static size_t count_coupons(const char *trial)
{
    struct coupon_list list;
    struct trial t;
    size_t count;

    ck_assert_int_eq(task_trial(&session, trial, &t, &e), 0);
    ck_assert_int_eq(task_coupons(&session, &t, true, &list, &e), 0);
    count = list.count;
    coupon_list_free(&list);
    trial_free(&t);
    return count;
}

START_TEST(a_table_is_brought_in_whole)
{
    struct trial t;

    ck_assert_msg(import("mark,volts,bend_angle\n01,18,40\n02,19,50\n", "a", false) == 0, "%s",
                  e.text);
    ck_assert_uint_eq(outcome.coupons, 2);
    ck_assert_uint_eq(outcome.rejected, 0);
    ck_assert_uint_eq(outcome.faults, 0);
    ck_assert_uint_eq(outcome.rows.count, 0);
    ck_assert_uint_eq(count_coupons("a"), 2);
    ck_assert_int_eq(task_trial(&session, NULL, &t, &e), 0); /* the one brought into last */
    ck_assert_str_eq(t.name, "a");
    ck_assert_ptr_null(t.result);
    trial_free(&t);
}
END_TEST

START_TEST(bad_rows_bring_in_nothing_unless_skipped)
{
    static const char csv[] = "mark,volts,bend_angle\n01,18,40\n02,many,50\n03,19,60\n";
    static const char only_bad[] = "mark,volts,bend_angle\n02,many,50\n";
    struct trial t;

    ck_assert_int_lt(import(csv, "a", false), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_str_eq(e.text, "t.csv: 1 row cannot be taken, so nothing was brought in; mend them, "
                             "or give --skip-bad to bring in the others");
    ck_assert_uint_eq(outcome.rejected, 1);
    ck_assert_uint_eq(outcome.coupons, 0);
    ck_assert_uint_eq(outcome.rows.count, 1);
    ck_assert_int_eq(strncmp(outcome.rows.blocks[0].text, "line 3, column volts: ", 22), 0);
    ck_assert_int_lt(task_trial(&session, "a", &t, &e), 0); /* not even the trial was made */
    ck_assert_int_lt(import(only_bad, "a", true), 0);
    ck_assert_str_eq(e.text, "t.csv: none of its 1 row can be taken");
    ck_assert_int_eq(import(csv, "a", true), 0);
    ck_assert_uint_eq(outcome.coupons, 2);
    ck_assert_uint_eq(outcome.rejected, 1);
    ck_assert_uint_eq(count_coupons("a"), 2);
}
END_TEST

START_TEST(what_the_book_refuses_is_told_like_a_bad_row)
{
    static const char again[] = "mark,volts,bend_angle\n01,18,40\n05,19,60\n";

    ck_assert_int_eq(import("mark,volts,bend_angle\n01,18,40\n", "a", false), 0);
    ck_assert_int_lt(import(again, "a", false), 0);
    ck_assert_uint_eq(outcome.rows.count, 1);
    ck_assert_msg(strncmp(outcome.rows.blocks[0].text,
                          "line 2: the mark 01 is on the coupon 01 of ", 43) == 0,
                  "%s", outcome.rows.blocks[0].text);
    ck_assert_uint_eq(count_coupons("a"), 1);
    ck_assert_int_eq(import(again, "a", true), 0);
    ck_assert_uint_eq(outcome.coupons, 1);
    ck_assert_uint_eq(outcome.rejected, 1);
    ck_assert_uint_eq(count_coupons("a"), 2);
}
END_TEST

START_TEST(of_many_bad_rows_the_first_twenty_are_told)
{
    struct text csv = {0};

    text_add(&csv, "mark,volts,bend_angle\n");
    for (int i = 0; i < 23; i++)
        text_addf(&csv, "%d,many,1\n", i + 1);
    ck_assert_int_lt(import(text_str(&csv), "a", false), 0);
    ck_assert_uint_eq(outcome.faults, 23);
    ck_assert_uint_eq(outcome.rejected, 23);
    ck_assert_uint_eq(outcome.rows.count, 21);
    ck_assert_str_eq(outcome.rows.blocks[20].text, "and 3 more");
    ck_assert_ptr_nonnull(strstr(e.text, "23 rows cannot"));
    text_free(&csv);
    text_add(&csv, "mark,volts,bend_angle\n");
    for (int i = 0; i < 20; i++)
        text_addf(&csv, "%d,many,1\n", i + 1);
    ck_assert_int_lt(import(text_str(&csv), "a", false), 0);
    ck_assert_uint_eq(outcome.rows.count, 20);
    text_free(&csv);
}
END_TEST

START_TEST(the_only_result_of_a_table_decides_its_trial)
{
    struct trial t;

    ck_assert_int_eq(import("mark,volts,fused_share,porosity\n01,18,40,2\n", "a", false), 0);
    ck_assert_int_eq(task_trial(&session, "a", &t, &e), 0);
    ck_assert_ptr_nonnull(t.result);
    ck_assert_str_eq(t.result, "fused_share");
    trial_free(&t);
    ck_assert_int_eq(import("mark,volts\n01,18\n", "b", false), 0);
    expect_blocks(
        &outcome.rows,
        "no column is a result, so nothing can be ranked by it; if one is, bring the file "
        "into another trial with --result NAME\n");
    ck_assert_int_eq(task_trial(&session, "b", &t, &e), 0);
    ck_assert_ptr_null(t.result);
    trial_free(&t);
}
END_TEST

START_TEST(a_column_of_ones_own_becomes_a_variable)
{
    static const char bad[] = "mark,Phase angle,bend_angle,volts\n01,3,40,many\n";

    ck_assert_int_lt(import(bad, "a", false), 0);
    ck_assert_ptr_null(variable_find(&session.variables, "Phase angle"));
    expect_blocks(&outcome.notes, "");
    ck_assert_int_eq(import("mark,Phase angle,bend_angle\n01,3,40\n", "a", false), 0);
    ck_assert_ptr_nonnull(variable_find(&session.variables, "Phase angle"));
    ck_assert_uint_eq(outcome.notes.count, 1);
    session_close(&session);
    ck_assert_int_eq(session_open(&session, path, BOOK_WRITE, &e), 0);
    ck_assert_ptr_nonnull(variable_find(&session.variables, "Phase angle"));
}
END_TEST

static void add_coupon(const char *trial, const char *mark, double volts)
{
    struct logging l;

    ck_assert_int_eq(task_log_begin(&session, trial, true, &l, &e), 0);
    l.coupon.mark = mem_copy(mark);
    coupon_set_number(&l.coupon, "volts", measure_exact(volts), NULL);
    ck_assert_msg(task_log_save(&session, &l, &e) == 0, "%s", e.text);
    task_log_end(&session, &l);
}

static double volts_of(const char *name)
{
    struct coupon c;
    double volts = -1;

    if (task_coupon(&session, name, &c, &e) == 0)
        volts = measure_point(coupon_value(&c, "volts")->measure);
    coupon_free(&c);
    return volts;
}

START_TEST(a_coupon_is_found_by_mark_and_trial)
{
    add_coupon("one", "01", 11);
    add_coupon("two", "01", 21);
    add_coupon("two", "a/b", 22);
    add_coupon("three", "05", 31);
    ck_assert_double_eq(volts_of("05"), 31);
    ck_assert_double_eq(volts_of("one/01"), 11);
    ck_assert_double_eq(volts_of("TWO/01"), 21);
    ck_assert_double_eq(volts_of("a/b"), 22);
    ck_assert_double_eq(volts_of("01"), -1); /* in two trials, and not in the last */
    ck_assert_ptr_nonnull(strstr(e.text, "2 trials have a coupon 01"));
    add_coupon("one", "02", 12);
    ck_assert_double_eq(volts_of("01"), 11); /* of the trial logged into last */
    ck_assert_double_eq(volts_of("nine/01"), -1);
    ck_assert_ptr_nonnull(strstr(e.text, "there is no coupon nine/01"));
}
END_TEST

START_TEST(a_new_coupon_is_like_the_last_with_the_next_mark)
{
    struct trial t;
    struct coupon c, again;

    ck_assert_int_eq(setting_set(session.book, "welder", "bench 1", &e), 0);
    session_close(&session);
    ck_assert_int_eq(session_open(&session, path, BOOK_WRITE, &e), 0);
    ck_assert_str_eq(session.who, "bench 1");
    add_coupon("one", "07", 11);
    ck_assert_int_eq(task_trial(&session, "one", &t, &e), 0);
    ck_assert_int_eq(task_coupon_new(&session, &t, &c, &e), 0);
    ck_assert_str_eq(c.mark, "08");
    ck_assert_str_eq(c.who, "bench 1");
    ck_assert_str_eq(c.trial, t.id);
    ck_assert_double_eq(measure_point(coupon_value(&c, "volts")->measure), 11);
    ck_assert_int_gt(c.when.utc_ms, 1700000000000);
    ck_assert_int_eq(task_coupon_save(&session, &c, &e), 0);
    ck_assert_int_eq(task_coupon_by_number(&session, c.sequence, &again, &e), 0);
    ck_assert_str_eq(again.mark, "08");
    coupon_free(&again);
    ck_assert_int_eq(task_coupon_before(&session, &c, &again, &e), 1);
    ck_assert_str_eq(again.mark, "07");
    coupon_free(&again);
    coupon_free(&c);
    trial_free(&t);
}
END_TEST

START_TEST(a_coupon_is_struck_out_with_a_reason_and_taken_back)
{
    struct coupon c;

    add_coupon("one", "01", 11);
    ck_assert_int_eq(task_coupon(&session, "01", &c, &e), 0);
    ck_assert_int_lt(task_coupon_strike(&session, &c, "", &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_str_eq(e.text, "coupon 01: say why it is struck out; the reason is kept");
    ck_assert_int_lt(task_coupon_strike(&session, &c, NULL, &e), 0);
    ck_assert_int_lt(task_coupon_restore(&session, &c, &e), 0);
    ck_assert_str_eq(e.text, "coupon 01 is not struck out");
    ck_assert_int_eq(task_coupon_strike(&session, &c, "dropped", &e), 0);
    ck_assert_int_lt(task_coupon_strike(&session, &c, "again", &e), 0);
    ck_assert_str_eq(e.text, "coupon 01 is struck out already");
    ck_assert_int_eq(task_coupon_restore(&session, &c, &e), 0);
    coupon_free(&c);
}
END_TEST

START_TEST(the_trial_to_fill_is_made_when_there_is_none)
{
    struct trial t;

    ck_assert_int_lt(task_trial(&session, NULL, &t, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_int_eq(task_trial_to_fill(&session, NULL, &t, &e), 0);
    ck_assert_str_eq(t.name, "first");
    trial_free(&t);
    ck_assert_int_eq(task_trial_to_fill(&session, "second", &t, &e), 0);
    ck_assert_str_eq(t.name, "second");
    trial_free(&t);
    ck_assert_int_eq(task_trial_to_fill(&session, "first", &t, &e), 0);
    ck_assert_int_eq(t.revision, 1);
    trial_free(&t);
    ck_assert_int_eq(task_trial(&session, NULL, &t, &e), 0); /* the newest while none was used */
    ck_assert_str_eq(t.name, "second");
    trial_free(&t);
    add_coupon("first", "01", 11);
    ck_assert_int_eq(task_trial(&session, NULL, &t, &e), 0);
    ck_assert_str_eq(t.name, "first");
    trial_free(&t);
    ck_assert_int_lt(task_trial(&session, "third", &t, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_ptr_nonnull(strstr(e.text, "there is no trial third; there is first, second"));
}
END_TEST

START_TEST(a_trial_is_decided_by_a_result_in_numbers)
{
    struct trial t;
    const struct variable *v;

    trial_init(&t);
    v = task_trial_result(&session, &t, NULL, &e);
    ck_assert_str_eq(v->key, "bend_angle");
    t.result = mem_copy("fused_share");
    ck_assert_str_eq(task_trial_result(&session, &t, NULL, &e)->key, "fused_share");
    ck_assert_str_eq(task_trial_result(&session, &t, "peak_moment", &e)->key, "peak_moment");
    ck_assert_ptr_null(task_trial_result(&session, &t, "volts", &e));
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_ptr_nonnull(strstr(e.text, "volts is not a result"));
    ck_assert_ptr_null(task_trial_result(&session, &t, "nothing at all", &e));
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_ptr_nonnull(strstr(e.text, "there is no variable 'nothing at all'"));
    trial_free(&t);
}
END_TEST

START_TEST(csv_has_what_is_worked_out_and_json_what_was_noted)
{
    struct coupon c;
    struct trial t;
    struct exported out;
    char *one;

    add_coupon("one", "01", 11);
    ck_assert_int_eq(task_coupon(&session, "01", &c, &e), 0);
    coupon_add_pass(&c)->arc_s = 10;
    c.passes[0].length_mm = 50;
    c.passes[0].volts = 18;
    c.passes[0].amps = 150;
    c.bead_mm = 50;
    c.face_read = true;
    c.bend.end = BEND_BROKE;
    c.bend.before_deg = 90;
    c.bend.after_deg = 110;
    ck_assert_int_eq(task_coupon_save(&session, &c, &e), 0);
    ck_assert_int_eq(task_trial(&session, "one", &t, &e), 0);
    ck_assert_double_gt(measure_point(coupon_measure(&c, "arc_energy")), 0);
    ck_assert_int_eq(task_export(&session, &t, EXPORT_CSV, false, &out, &e), 0);
    ck_assert_ptr_nonnull(strstr(out.text, ",20,")); /* 110 less 90, in degrees */
    ck_assert_ptr_nonnull(strstr(out.text, ",100")); /* no flaw: % fused */
    ck_assert_ptr_nonnull(strstr(out.text, ",11,")); /* volts as noted, not the pass's 18 */
    ck_assert_ptr_null(strstr(out.text, "energy"));
    free(out.text);
    free(out.remark);
    ck_assert_int_eq(task_export(&session, &t, EXPORT_JSON, false, &out, &e), 0);
    ck_assert_ptr_null(out.remark);
    ck_assert_ptr_nonnull(strstr(out.text, "\"trial\""));
    ck_assert_ptr_null(strstr(out.text, "fused_share"));
    free(out.text);
    one = task_export_coupon(&session, &c);
    ck_assert_msg(strstr(one, "\"schema\": 1") != NULL || strstr(one, "\"schema\":1") != NULL, "%s",
                  one);
    ck_assert_ptr_nonnull(strstr(one, "\"coupons\""));
    free(one);
    ck_assert_int_eq(task_coupon_strike(&session, &c, "dropped", &e), 0);
    ck_assert_int_eq(task_export(&session, &t, EXPORT_CSV, false, &out, &e), 0);
    ck_assert_uint_eq(out.coupons, 0);
    ck_assert_ptr_null(strstr(out.text, "\n01,"));
    free(out.text);
    free(out.remark);
    ck_assert_int_eq(task_export(&session, &t, EXPORT_CSV, true, &out, &e), 0);
    ck_assert_uint_eq(out.coupons, 1);
    ck_assert_ptr_nonnull(strstr(out.text, "dropped"));
    free(out.text);
    free(out.remark);
    coupon_free(&c);
    trial_free(&t);
}
END_TEST

static void write_file(const char *name, const char *text)
{
    FILE *f = fopen(name, "w");

    ck_assert_ptr_nonnull(f);
    fputs(text, f);
    fclose(f);
}

START_TEST(photographs_that_changed_are_found)
{
    char *a = mem_format("%s/a.jpg", folder), *b = mem_format("%s/b.jpg", folder), *line;
    struct page p = {0};
    struct coupon c;

    add_coupon("one", "01", 11);
    write_file(a, "a");
    write_file(b, "b");
    ck_assert_int_eq(task_coupon(&session, "01", &c, &e), 0);
    ck_assert_int_eq(task_coupon_add_photo(&c, a, &e), 0);
    ck_assert_int_eq(task_coupon_add_photo(&c, b, &e), 0);
    /* what sha256sum says of "a" */
    ck_assert_str_eq(c.photos[0].sha256,
                     "ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb");
    ck_assert_str_eq(c.photos[0].path, a);
    ck_assert_int_lt(task_coupon_add_photo(&c, "/nowhere/x", &e), 0);
    ck_assert_uint_eq(c.photo_count, 2);
    free(coupon_add_photo(&c)->sha256); /* one without a digest */
    c.photos[2].path = mem_copy(b);
    ck_assert_int_eq(task_coupon_save(&session, &c, &e), 0);
    ck_assert_int_eq(task_book_check(&session, &p, &e), 0);
    ck_assert_uint_eq(p.count, 0);
    write_file(a, "other");
    ck_assert_int_eq(task_book_check(&session, &p, &e), 1);
    line = mem_format("coupon 01: photograph %s is not the one that was attached\n", a);
    expect_blocks(&p, line);
    free(line);
    page_free(&p);
    ck_assert_int_eq(unlink(b), 0);
    ck_assert_int_eq(task_coupon_strike(&session, &c, "lost", &e), 0); /* it is looked at still */
    ck_assert_int_eq(task_book_check(&session, &p, &e), 3);
    ck_assert_ptr_nonnull(strstr(p.blocks[1].text, "coupon 01: photograph "));
    page_free(&p);
    coupon_free(&c);
    free(a);
    free(b);
}
END_TEST

START_TEST(faults_of_the_book_are_counted)
{
    struct page p = {0};
    struct coupon c;

    add_coupon("one", "01", 11);
    ck_assert_int_eq(task_coupon(&session, "01", &c, &e), 0);
    coupon_set_number(&c, "phase", measure_exact(1), NULL);
    ck_assert_int_eq(task_coupon_save(&session, &c, &e), 0);
    page_add(&p, BLOCK_TITLE, "before");
    ck_assert_int_eq(task_book_check(&session, &p, &e), 1);
    expect_blocks(&p, "before\n"
                      "coupon 01: it has a value of phase, which is no variable of this book\n");
    page_free(&p);
    coupon_free(&c);
}
END_TEST

START_TEST(a_backup_is_a_book_of_its_own)
{
    char *to = mem_format("%s/copy.coldlap", folder);
    struct session copy;
    struct coupon c;

    add_coupon("one", "01", 11);
    ck_assert_int_eq(task_book_backup(&session, to, &e), 0);
    ck_assert_int_lt(task_book_backup(&session, to, &e), 0);
    ck_assert_int_eq(session_open(&copy, to, BOOK_READ, &e), 0);
    ck_assert_ptr_nonnull(session_read_only(&copy));
    ck_assert_int_eq(task_coupon(&copy, "01", &c, &e), 0);
    coupon_free(&c);
    session_close(&copy);
    free(to);
}
END_TEST

START_TEST(what_cannot_be_stored_is_not_in_the_session)
{
    struct variable own = {.key = "phase", .label = "Phase", .kind = VARIABLE_NUMBER, .unit = "W"};
    size_t count = session.variables.count;

    session_close(&session);
    ck_assert_ptr_null(session.book);
    ck_assert_uint_eq(session.variables.count, 0);
    session_close(&session); /* once more does no harm */
    ck_assert_int_eq(session_open(&session, path, BOOK_READ, &e), 0);
    ck_assert_int_lt(task_variable_add(&session, &own, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_uint_eq(session.variables.count, count);
    ck_assert_int_lt(session_set_units(&session, UNITS_INCH, &e), 0);
    ck_assert_int_eq(session.units, UNITS_METRIC);
}
END_TEST

START_TEST(the_book_is_the_one_named_or_that_of_the_environment)
{
    char *data = mem_format("%s/coldlap/book.coldlap", folder);
    char *home = mem_format("%s/.local/share/coldlap/book.coldlap", folder);
    struct session s;

    unsetenv("COLDLAP_BOOK");
    setenv("XDG_DATA_HOME", folder, 1);
    setenv("HOME", folder, 1);
    ck_assert_int_eq(session_open(&s, "", BOOK_CREATE, &e), 0);
    ck_assert_str_eq(session_book_name(&s), data);
    session_close(&s);
    setenv("XDG_DATA_HOME", "relative", 1);
    ck_assert_int_eq(session_open(&s, NULL, BOOK_CREATE, &e), 0);
    ck_assert_str_eq(session_book_name(&s), home);
    session_close(&s);
    setenv("COLDLAP_BOOK", data, 1);
    ck_assert_int_eq(session_open(&s, NULL, BOOK_READ, &e), 0);
    ck_assert_str_eq(session_book_name(&s), data);
    session_close(&s);
    ck_assert_int_eq(session_open(&s, home, BOOK_READ, &e), 0);
    ck_assert_str_eq(session_book_name(&s), home);
    session_close(&s);
    unsetenv("COLDLAP_BOOK");
    unsetenv("XDG_DATA_HOME");
    unsetenv("HOME");
    ck_assert_int_lt(session_open(&s, NULL, BOOK_READ, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_ptr_nonnull(strstr(e.text, "HOME is not set"));
    ck_assert_ptr_null(s.book);
    free(home);
    free(data);
}
END_TEST

START_TEST(units_are_kept_in_the_book)
{
    enum unit_system units = UNITS_INCH;

    ck_assert_int_eq(session.units, UNITS_METRIC);
    ck_assert_int_eq(session_set_units(&session, UNITS_INCH, &e), 0);
    ck_assert_int_eq(session.units, UNITS_INCH);
    session_close(&session);
    ck_assert_int_eq(session_open(&session, path, BOOK_WRITE, &e), 0);
    ck_assert_int_eq(session.units, UNITS_INCH);
    ck_assert_int_eq(units_parse("Metric", &units, &e), 0);
    ck_assert_int_eq(units, UNITS_METRIC);
    ck_assert_int_lt(units_parse("feet", &units, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_str_eq(units_name(UNITS_INCH), "inch");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/tasks");
    TCase *t = tcase_create("tasks");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_test(t, a_table_is_brought_in_whole);
    tcase_add_test(t, bad_rows_bring_in_nothing_unless_skipped);
    tcase_add_test(t, what_the_book_refuses_is_told_like_a_bad_row);
    tcase_add_test(t, of_many_bad_rows_the_first_twenty_are_told);
    tcase_add_test(t, the_only_result_of_a_table_decides_its_trial);
    tcase_add_test(t, a_column_of_ones_own_becomes_a_variable);
    tcase_add_test(t, a_coupon_is_found_by_mark_and_trial);
    tcase_add_test(t, a_new_coupon_is_like_the_last_with_the_next_mark);
    tcase_add_test(t, a_coupon_is_struck_out_with_a_reason_and_taken_back);
    tcase_add_test(t, the_trial_to_fill_is_made_when_there_is_none);
    tcase_add_test(t, a_trial_is_decided_by_a_result_in_numbers);
    tcase_add_test(t, csv_has_what_is_worked_out_and_json_what_was_noted);
    tcase_add_test(t, photographs_that_changed_are_found);
    tcase_add_test(t, faults_of_the_book_are_counted);
    tcase_add_test(t, a_backup_is_a_book_of_its_own);
    tcase_add_test(t, what_cannot_be_stored_is_not_in_the_session);
    tcase_add_test(t, the_book_is_the_one_named_or_that_of_the_environment);
    tcase_add_test(t, units_are_kept_in_the_book);
    suite_add_tcase(s, t);
    return s;
}
