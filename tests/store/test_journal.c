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

static struct coupon loaded(long number)
{
    struct coupon c;

    ck_assert_msg(coupon_load_number(book, number, &c, &e) == 0, "%s", e.text);
    return c;
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
    struct coupon c = loaded(number);

    free(c.note);
    c.note = mem_copy(text);
    ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
    coupon_free(&c);
}

static void has_note(long number, const char *text)
{
    struct coupon c = loaded(number);

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
    got = loaded(1);
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
    struct coupon first = saved(), second = loaded(1), got;

    coupon_unset(&second, "joint");
    coupon_set_number(&second, "thickness", measure_exact(1.0 / 3), NULL);
    second.passes[0].volts = 1e-7 / 3;
    second.pass_count = 1;
    second.bend.end = BEND_BROKE;
    ck_assert_int_eq(coupon_save(book, &second, &e), 0);
    for (int i = 0; i < 3; i++) {
        gone(journal_undo, 0);
        got = loaded(1);
        scratch_same_coupon(&first, &got);
        coupon_free(&got);
        gone(journal_redo, 0);
        got = loaded(1);
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
    got = loaded(1);
    ck_assert_ptr_null(got.struck_why);
    coupon_free(&got);
    gone(journal_redo, 0);
    got = loaded(1);
    ck_assert_str_eq(got.struck_why, "wrong plate");
    coupon_free(&got);
    ck_assert_int_eq(coupon_restore(book, &c, &e), 0);
    gone(journal_undo, 0);
    got = loaded(1);
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
    got = loaded(1);
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
    c = loaded(1);
    ck_assert_double_eq(coupon_value(&c, "rust_left")->measure.low, 4);
    coupon_free(&c);
}
END_TEST

static void units_are(const char *system)
{
    char *value;

    ck_assert_int_eq(setting_get(book, "units", &value, &e), 0);
    if (system == NULL)
        ck_assert_ptr_null(value);
    else
        ck_assert_str_eq(value, system);
    free(value);
}

START_TEST(a_setting)
{
    ck_assert_int_eq(setting_set(book, "units", "inch", &e), 0);
    ck_assert_int_eq(setting_set(book, "units", "metric", &e), 0);
    ck_assert_int_eq(setting_set(book, "draft", "what the program keeps for itself", &e), 0);
    gone(journal_undo, 0);
    units_are("inch");
    gone(journal_undo, 0);
    units_are(NULL);
    refused(journal_undo, 0, "there is nothing to undo that was done at this bench");
    gone(journal_redo, 0);
    gone(journal_redo, 0);
    units_are("metric");
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
    units_are("inch");
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
    units_are("inch");
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
    second = loaded(1);
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

/*
 * A walk of random actions beside a plain model of the book. A thing of the model is a coupon, the
 * trial or the setting; a change has the other state of each thing it touched.
 */
enum { MOST_ALIVE = 12, MOST_THINGS = 20000, MOST_CHANGES = 20000, MOST_TOUCHED = 8 };
enum { A_TRIAL, A_SETTING, COUPONS }; /* things; a coupon is COUPONS - 1 + its number */

struct state {
    bool there, struck;
    int passes, words; /* the note, question or value: chosen by this number */
    double volts, least;
};
struct done {
    size_t count;
    int things[MOST_TOUCHED];
    struct state other[MOST_TOUCHED];
    bool undone;
};
static struct state now[MOST_THINGS];
static struct done changes[MOST_CHANGES], current;
static size_t change_count;
static int thing_count;
static bool together;

static void touch(int thing)
{
    for (size_t i = 0; i < current.count; i++)
        if (current.things[i] == thing)
            return;
    ck_assert_uint_lt(current.count, MOST_TOUCHED);
    current.things[current.count] = thing;
    current.other[current.count++] = now[thing];
}

static void swap_states(struct done *d)
{
    for (size_t i = 0; i < d->count; i++) {
        struct state other = d->other[i];

        d->other[i] = now[d->things[i]];
        now[d->things[i]] = other;
    }
}

static void end_change(bool kept)
{
    if (!kept)
        swap_states(&current);
    else if (current.count > 0)
        changes[change_count++] = current;
    current = (struct done){0};
}

static const char *units_of(int words)
{
    return words % 2 == 0 ? "inch" : "metric";
}

static void put_state(struct coupon *c, const struct state *s)
{
    char text[32];

    snprintf(text, sizeof text, "words %d", s->words);
    free(c->note);
    c->note = mem_copy(text);
    snprintf(text, sizeof text, "%.15g V", s->volts);
    coupon_set_number(c, "volts", measure_exact(s->volts), s->words % 2 == 0 ? text : NULL);
    coupon_set_number(c, "bend_angle", measure_at_least(s->least), NULL);
    c->pass_count = 0;
    while ((int)c->pass_count < s->passes)
        coupon_add_pass(c)->volts = s->volts;
}

static struct state random_state(void)
{
    return (struct state){.there = true,
                          .passes = rand() % 4,
                          .words = rand() % 1000,
                          .volts = 5 + (rand() % 4 == 0 ? rand() % 40 : rand() / 7e7),
                          .least = rand() / 1e7 / 3};
}

/* One of those in the book, by its thing; -1: there is none. */
static int random_coupon(void)
{
    int alive[MOST_ALIVE], count = 0;

    for (int i = COUPONS; i < thing_count; i++)
        if (now[i].there)
            alive[count++] = i;
    return count == 0 ? -1 : alive[rand() % count];
}

static int alive(void)
{
    int count = 0;

    for (int i = COUPONS; i < thing_count; i++)
        count += now[i].there;
    return count;
}

static void act_new(void)
{
    struct state s = random_state();
    struct coupon c;

    if (alive() == MOST_ALIVE)
        return;
    coupon_init(&c);
    put_state(&c, &s);
    ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
    if (COUPONS - 1 + (int)c.sequence >= thing_count)
        thing_count = COUPONS + (int)c.sequence;
    ck_assert(!now[COUPONS - 1 + c.sequence].there);
    touch(COUPONS - 1 + (int)c.sequence);
    now[COUPONS - 1 + c.sequence] = s;
    coupon_free(&c);
}

/* Every tenth one is refused: then nothing of it is kept. */
static void act_change(void)
{
    int thing = random_coupon();
    struct state s = random_state();
    bool bad = rand() % 10 == 0;
    struct coupon c;

    if (thing < 0)
        return;
    c = loaded(thing - COUPONS + 1);
    s.struck = now[thing].struck;
    put_state(&c, &s);
    if (bad)
        coupon_add_pass(&c)->volts = -5;
    ck_assert_int_eq(coupon_save(book, &c, &e), bad ? -1 : 0);
    if (!bad) {
        touch(thing);
        now[thing] = s;
    }
    coupon_free(&c);
}

static void act_strike(void)
{
    int thing = random_coupon();
    struct coupon c;

    if (thing < 0)
        return;
    c = loaded(thing - COUPONS + 1);
    touch(thing);
    ck_assert_msg((now[thing].struck ? coupon_restore(book, &c, &e)
                                     : coupon_strike(book, &c, "bent", &e)) == 0,
                  "%s", e.text);
    now[thing].struck = !now[thing].struck;
    coupon_free(&c);
}

static void act_setting(void)
{
    int words = now[A_SETTING].there ? now[A_SETTING].words + 1 : rand() % 1000;

    ck_assert_int_eq(setting_set(book, "units", units_of(words), &e), 0);
    touch(A_SETTING);
    now[A_SETTING] = (struct state){.there = true, .words = words};
}

static void act_trial(void)
{
    int words = now[A_TRIAL].there ? now[A_TRIAL].words + 1 : rand() % 1000;
    char text[32];
    struct trial t;

    if (now[A_TRIAL].there)
        ck_assert_int_eq(trial_load(book, "walk", &t, &e), 0);
    else
        trial_init(&t);
    free(t.name);
    free(t.question);
    snprintf(text, sizeof text, "words %d", words);
    t.name = mem_copy("walk");
    t.question = mem_copy(text);
    ck_assert_msg(trial_save(book, &t, &e) == 0, "%s", e.text);
    touch(A_TRIAL);
    now[A_TRIAL] = (struct state){.there = true, .words = words};
    trial_free(&t);
}

static void (*const acts[])(void) = {act_new,    act_change,  act_change, act_change,
                                     act_strike, act_setting, act_trial};

static void one_act(void)
{
    acts[(size_t)rand() % (sizeof acts / sizeof acts[0])]();
    if (!together)
        end_change(true);
}

static void several_acts(void)
{
    int count = 1 + rand() % 4;
    bool kept = rand() % 3 > 0;

    ck_assert_int_eq(book_begin(book, &e), 0);
    together = true;
    while (count-- > 0)
        one_act();
    together = false;
    if (kept)
        ck_assert_int_eq(book_commit(book, &e), 0);
    else
        book_rollback(book);
    end_change(kept);
}

static bool share_a_thing(const struct done *a, const struct done *b)
{
    for (size_t i = 0; i < a->count; i++)
        for (size_t k = 0; k < b->count; k++)
            if (a->things[i] == b->things[k])
                return true;
    return false;
}

/* A change that holds came behind it, and is about the same thing. */
static bool built_upon(size_t which)
{
    for (size_t i = which + 1; i < change_count; i++)
        if (!changes[i].undone && share_a_thing(&changes[i], &changes[which]))
            return true;
    return false;
}

static int go_back(size_t which)
{
    struct change change;
    bool can = !changes[which].undone && !built_upon(which);
    int rc = journal_undo(book, (int64_t)which + 1, &change, &e);

    ck_assert_msg((rc == 0) == can, "change %zu, can %d: %s", which + 1, can, e.text);
    if (rc < 0)
        return rc;
    change_free(&change);
    swap_states(&changes[which]);
    changes[which].undone = true;
    return 0;
}

/* Where more was done meanwhile it may be refused. */
static bool go_forth(size_t which)
{
    struct change change;
    int rc = journal_redo(book, (int64_t)which + 1, &change, &e);

    if (rc < 0) {
        ck_assert_msg(one_line(&e), "%s", e.text);
        return false;
    }
    change_free(&change);
    ck_assert(changes[which].undone && !built_upon(which));
    swap_states(&changes[which]);
    changes[which].undone = false;
    return true;
}

/* The last few; once in a while further back. */
static size_t random_change(void)
{
    size_t back = (size_t)rand() % (rand() % 10 == 0 ? 100 : 6);

    return back < change_count ? change_count - 1 - back : 0;
}

static void back_or_forth(void)
{
    size_t which = random_change();

    if (change_count == 0)
        return;
    if (rand() % 3 == 0 && alive() < MOST_ALIVE)
        go_forth(which);
    else if (go_back(which) == 0 && rand() % 3 == 0)
        ck_assert_msg(go_forth(which), "%s", e.text); /* nothing happened meanwhile */
}

static void same_as_model(const struct coupon *c)
{
    const struct state *s = &now[COUPONS - 1 + c->sequence];
    struct coupon expected;

    ck_assert(s->there);
    ck_assert_int_eq(c->struck_why != NULL, s->struck);
    coupon_init(&expected);
    put_state(&expected, s);
    expected.when = c->when;
    expected.struck_why = mem_copy(c->struck_why);
    scratch_same_coupon(&expected, c);
    coupon_free(&expected);
}

static void compare_all(void)
{
    struct coupon_list list = {0};
    struct trial_list trials = {0};
    char text[32];

    ck_assert_msg(coupons_load(book, NULL, true, &list, &e) == 0, "%s", e.text);
    ck_assert_int_eq((int)list.count, alive());
    for (size_t i = 0; i < list.count; i++)
        same_as_model(&list.items[i]);
    coupon_list_free(&list);
    units_are(now[A_SETTING].there ? units_of(now[A_SETTING].words) : NULL);
    ck_assert_int_eq(trials_load(book, &trials, &e), 0);
    ck_assert_uint_eq(trials.count, now[A_TRIAL].there);
    snprintf(text, sizeof text, "words %d", now[A_TRIAL].words);
    if (trials.count == 1)
        ck_assert_str_eq(trials.items[0].question, text);
    trial_list_free(&trials);
}

static void no_fault(void *ctx, const char *line)
{
    (void)ctx;
    ck_abort_msg("%s", line);
}

START_TEST(a_random_walk_agrees_with_a_plain_model)
{
    srand(test_seed(20));
    thing_count = COUPONS;
    for (int step = 0; step < WALK_STEPS; step++) {
        int dice = rand() % 10;

        if (dice < 4)
            one_act();
        else if (dice < 6)
            several_acts();
        else if (dice < 7 && rand() % 8 == 0)
            reopen("bench 1");
        else
            back_or_forth();
        compare_all();
    }
    ck_assert_int_eq(scratch_count(at.book, "SELECT max(id) FROM change"), (long)change_count);
    printf("%zu changes, %d coupons\n", change_count, thing_count - COUPONS);
    ck_assert_int_eq(book_check(book, no_fault, NULL, &e), 0);
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
    tcase_add_test(t, a_random_walk_agrees_with_a_plain_model);
    suite_add_tcase(s, t);
    return s;
}
