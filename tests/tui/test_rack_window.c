/*
 * The rack reads a few coupons around the focus. Here all of them are loaded the simple way, made
 * into rows and filtered, and both are to show the same: rows, texts, focus, and whether there is
 * more above and below.
 */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/mem.h"
#include "store/coupons.h"
#include "tui/screen/rack_list.h"

static char folder[40], *path;
static struct ui ui;
static struct rack rack;
static struct trial trials[2];
static struct error e;

static void begin(void)
{
    static const char *const names[] = {"corner", "other"};

    strcpy(folder, "/tmp/coldlap-rack-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/b.coldlap", folder);
    ck_assert_int_eq(session_open(&ui.session, path, BOOK_CREATE, &e), 0);
    for (int i = 0; i < 2; i++) {
        trial_init(&trials[i]);
        trials[i].name = mem_copy(names[i]);
        ck_assert_int_eq(task_trial_save(&ui.session, &trials[i], &e), 0);
    }
    rack = (struct rack){.ui = &ui, .lines = 5};
}

static void end(void)
{
    char *command = mem_format("rm -r '%s'", folder);

    rack_free(&rack);
    for (int i = 0; i < 2; i++)
        trial_free(&trials[i]);
    session_close(&ui.session);
    ck_assert_int_eq(system(command), 0);
    free(command);
    free(path);
}

static unsigned state;

static unsigned any(unsigned below)
{
    state = state * 1103515245u + 12345u;
    return (state >> 8) % below;
}

/* Of few kinds, so that letters find some of them. */
static long log_coupon(int trial)
{
    static const char *const gases[] = {"Ar 82 CO2 18", "CO2", "Ar 92 CO2 8"};
    static const char *const notes[] = {NULL, "spatter", "gap in the root"};
    struct coupon c;
    long number;

    ck_assert_int_eq(task_coupon_new(&ui.session, &trials[trial], &c, &e), 0);
    coupon_set_category(&c, "gas", gases[any(3)]);
    coupon_set_number(&c, "volts", measure_exact(15 + any(5)), NULL);
    if (any(2) > 0)
        coupon_set_number(&c, "bend_angle", measure_at_least(any(90)), NULL);
    free(c.note);
    c.note = mem_copy(notes[any(3)]);
    ck_assert_msg(task_coupon_save(&ui.session, &c, &e) == 0, "%s", e.text);
    number = c.sequence;
    coupon_free(&c);
    return number;
}

static void strike(long number, bool out)
{
    struct coupon c;

    ck_assert_int_eq(task_coupon_by_number(&ui.session, number, &c, &e), 0);
    if (out && c.struck_why == NULL)
        ck_assert_int_eq(task_coupon_strike(&ui.session, &c, "cold at the start", &e), 0);
    else if (!out && c.struck_why != NULL)
        ck_assert_int_eq(task_coupon_restore(&ui.session, &c, &e), 0);
    coupon_free(&c);
}

static void finish_work(void)
{
    int more;

    while ((more = rack_work(&rack, &e)) > 0)
        continue;
    ck_assert_msg(more == 0, "%s", e.text);
}

static void load(const char *trial)
{
    ck_assert_msg(rack_load(&rack, trial, &e) == 0, "%s", e.text);
    finish_work();
}

static void press(enum key_code code)
{
    ck_assert_int_ge(rack_key(&rack, (struct key){.code = code}, &e), 0);
    finish_work();
}

static void find(const char *letters)
{
    ck_assert_int_ge(rack_find(&rack, letters, &e), 0);
    finish_work();
}

static const struct list_row *focused(void)
{
    ck_assert_int_eq(rack_prepare(&rack, rack.lines, &e), 0);
    return rack_focused(&rack);
}

/* Everything there is, in rows. */
struct whole {
    struct list_row *rows;
    size_t count, coupons;
};

static struct whole load_whole(void)
{
    const struct coupon *before = NULL;
    struct coupon_list list;
    struct whole w = {0};

    ck_assert_int_eq(task_coupons(&ui.session, &rack.trial, rack.with_struck, &list, &e), 0);
    w.rows = mem_zero(list.count + 1, sizeof *w.rows);
    w.coupons = list.count;
    for (size_t i = 0; i < list.count; i++) {
        const struct coupon *c = &list.items[i];
        struct list_row row = list_row_make(&ui.session, c, before, rack.view.result);

        before = c->struck_why == NULL ? c : before;
        if (rack.view.letters == NULL || list_row_holds(&row, c, rack.view.letters))
            w.rows[w.count++] = row;
        else
            list_row_free(&row);
    }
    coupon_list_free(&list);
    return w;
}

static void free_whole(struct whole *w)
{
    for (size_t i = 0; i < w->count; i++)
        list_row_free(&w->rows[i]);
    free(w->rows);
}

/* The row with the focus: the one asked for, else the next, else the last. */
static size_t place_in(const struct whole *w, long number)
{
    size_t at = 0;

    while (at < w->count && w->rows[at].number < number)
        at++;
    return at == w->count && at > 0 ? at - 1 : at;
}

static void same_row(const struct list_row *a, const struct list_row *b)
{
    ck_assert_int_eq(a->number, b->number);
    ck_assert_str_eq(a->mark, b->mark);
    ck_assert_str_eq(a->when, b->when);
    ck_assert_str_eq(a->changed, b->changed);
    ck_assert_str_eq(a->result, b->result);
    ck_assert_int_eq(a->struck, b->struck);
}

/* What is on the screen is a part of the whole, with the focus in it. */
static void expect_as_whole(void)
{
    struct whole w = load_whole();
    size_t focus = place_in(&w, rack.focus), top, first, shown;

    ck_assert_int_eq(rack_prepare(&rack, rack.lines, &e), 0);
    ck_assert(coupon_view_done(&rack.view));
    ck_assert_uint_eq(rack.view.total, w.coupons);
    ck_assert_int_eq(focused() == NULL, w.count == 0);
    if (w.count > 0) {
        same_row(focused(), &w.rows[focus]);
        top = list_top(&rack.list, rack.lines);
        first = focus - (rack.list.focus - top);
        shown = w.count < (size_t)rack.lines ? w.count : (size_t)rack.lines;
        ck_assert_uint_le(first + shown, w.count); /* no line is empty while rows remain */
        for (size_t i = 0; i < shown; i++)
            same_row(&rack.rows[top + i], &w.rows[first + i]);
        ck_assert_int_eq(top > 0, first > 0);
        ck_assert_int_eq(top + shown < rack.list.count, first + shown < w.count);
    }
    if (rack.view.letters != NULL)
        ck_assert_uint_eq(coupon_view_found(&rack.view), w.count);
    free_whole(&w);
}

/* As after the first load has failed. */
START_TEST(nothing_was_loaded)
{
    ck_assert_int_eq(rack_work(&rack, &e), 0);
    press(PRESS_DOWN);
    press(PRESS_END);
    find("x");
    ck_assert_int_eq(rack_focus(&rack, 3, &e), 0);
    ck_assert_ptr_null(focused());
}
END_TEST

START_TEST(an_empty_trial)
{
    load("other");
    expect_as_whole();
    press(PRESS_UP);
    press(PRESS_END);
    find("x");
    expect_as_whole();
    ck_assert_ptr_null(focused());
    log_coupon(1);
    load(NULL);
    find(NULL);
    ck_assert_str_eq(focused()->changed, "the first");
}
END_TEST

/* Pages meet like those of a list that has all rows. */
START_TEST(pages_from_end_to_end)
{
    struct list whole = {0};

    for (int i = 0; i < 23; i++)
        log_coupon(i % 4 == 3); /* so that the numbers of the trial have gaps */
    load("corner");
    list_resize(&whole, rack.view.total);
    ck_assert_uint_eq(whole.count, 18);
    list_key(&whole, (struct key){.code = PRESS_END}, rack.lines);
    for (int i = 0; i < 60; i++) {
        static const enum key_code keys[] = {PRESS_UP,   PRESS_PAGE_UP, PRESS_PAGE_DOWN,
                                             PRESS_DOWN, PRESS_PAGE_UP, PRESS_HOME,
                                             PRESS_END};
        enum key_code code = keys[any(7)];
        struct whole w = load_whole();

        press(code);
        list_key(&whole, (struct key){.code = code}, rack.lines);
        expect_as_whole();
        ck_assert_int_eq(focused()->number, w.rows[whole.focus].number);
        ck_assert_uint_eq(rack.list.focus - list_top(&rack.list, rack.lines),
                          whole.focus - list_top(&whole, rack.lines));
        free_whole(&w);
    }
}
END_TEST

START_TEST(the_focus_stays_at_its_coupon)
{
    long numbers[9];

    for (int i = 0; i < 9; i++)
        numbers[i] = log_coupon(0);
    load("corner");
    ck_assert_int_eq(focused()->number, numbers[8]);
    press(PRESS_PAGE_UP);
    ck_assert_int_eq(focused()->number, numbers[4]);
    log_coupon(0);
    strike(numbers[0], true);
    load(NULL);
    ck_assert_int_eq(focused()->number, numbers[4]);
    strike(numbers[4], true); /* the next takes its place */
    load(NULL);
    ck_assert_int_eq(focused()->number, numbers[5]);
    rack.with_struck = true;
    load(NULL);
    ck_assert_int_eq(focused()->number, numbers[4]);
    ck_assert_str_eq(focused()->result, "struck out: cold at the start");
    find("no coupon holds this");
    ck_assert_ptr_null(focused());
    find("");
    ck_assert_int_eq(focused()->number, numbers[4]);
    ck_assert_int_eq(rack_focus(&rack, numbers[7], &e), 0);
    ck_assert_int_eq(focused()->number, numbers[7]);
    ck_assert_int_eq(rack_focus(&rack, 0, &e), 0);
    ck_assert_int_eq(focused()->number, numbers[7]);
    load("other");
    load("corner"); /* another trial is shown from its end */
    ck_assert_int_eq(focused()->number, numbers[8] + 1);
}
END_TEST

/* Enough coupons that a search takes several slices: some hold the letters only near one end. */
START_TEST(a_search_goes_on_in_slices)
{
    enum { COUPONS = 900 };

    ck_assert_int_eq(book_begin(ui.session.book, &e), 0);
    for (int i = 0; i < COUPONS; i++) {
        struct coupon c;

        coupon_init(&c);
        strcpy(c.trial, trials[0].id);
        c.note = mem_format("%s%d", i < 300 ? "low" : i >= 700 ? "high" : "middle", i);
        ck_assert_int_eq(coupon_save(ui.session.book, &c, &e), 0);
        coupon_free(&c);
    }
    ck_assert_int_eq(book_commit(ui.session.book, &e), 0);
    load("corner");
    ck_assert_int_eq(rack_focus(&rack, 450, &e), 0);
    find("low");
    expect_as_whole();
    ck_assert_uint_eq(coupon_view_found(&rack.view), 300);
    coupon_view_find(&rack.view, "h", 450); /* not looked through yet */
    ck_assert(!coupon_view_searched(&rack.view));
    ck_assert_int_ge(rack_work(&rack, &e), 0);
    press(PRESS_END);
    expect_as_whole();
    ck_assert_int_eq(focused()->number, COUPONS);
    coupon_view_find(&rack.view, "hig", 20); /* beginning where nothing is found */
    press(PRESS_HOME);
    expect_as_whole();
    ck_assert_int_eq(focused()->number, 701);
    find("high80");
    expect_as_whole();
    ck_assert_uint_eq(coupon_view_found(&rack.view), 10);
    find("low80");
    expect_as_whole();
    ck_assert_uint_eq(coupon_view_found(&rack.view), 1);
    find("8"); /* fewer letters: all are looked through again */
    expect_as_whole();
}
END_TEST

/* Either way of looking is taken for what it is for. */
START_TEST(letters_that_are_only_kept_as_written)
{
    static const struct {
        const char *letters;
        bool said;
    } cases[] = {{"spatter", false},
                 {"zzz", false},
                 {"volts spatter", false},
                 {"the first", true},
                 {"nothing", true},
                 {"wire diameter, pre", true},
                 {"STRUCK OUT: c", true},
                 {"not bent", true},
                 {"at LEAST", true},
                 {"48", true},
                 {"°", true},
                 {"mm", true},
                 {"volts", true},
                 {"a_", true},
                 {"50%", true}};

    log_coupon(0);
    load("corner");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ck_assert_msg(list_row_may_say(&ui.session, rack.view.result, cases[i].letters) ==
                          cases[i].said,
                      "%s", cases[i].letters);
        find(cases[i].letters);
        ck_assert_int_eq(rack.view.as_written, !cases[i].said);
        expect_as_whole();
    }
}
END_TEST

static void change_the_book(void)
{
    switch (any(3)) {
    case 0:
        log_coupon((int)any(2));
        break;
    default:
        if (focused() != NULL)
            strike(1 + (long)any((unsigned)focused()->number), any(3) > 0);
        break;
    }
    load(NULL);
}

/* Letters that are in some text of a row, or in none, longer and longer ones among them. */
static void find_something(void)
{
    static const char *const letters[] = {"s",    "sp",        "spatter", "CO2", "co2 1", "Root",
                                          "cold", "the first", "zzz",     "0",   "",      ""};

    find(letters[any(sizeof letters / sizeof *letters)]);
}

/* A part of what the row with the focus says. */
static void find_what_is_said(void)
{
    const struct list_row *row = focused();
    const char *text = row == NULL                   ? "nothing"
                       : any(3) == 0                 ? row->changed
                       : any(2) == 0 && !row->struck ? row->result
                       : any(2) == 0                 ? row->when
                                                     : row->mark;
    size_t length = strlen(text), from = any((unsigned)length), most = length - from;
    char *part = mem_copy_part(text + from, 1 + any((unsigned)most));

    ck_assert_msg((row != NULL && text == row->mark) ||
                      list_row_may_say(&ui.session, rack.view.result, part),
                  "'%s' of '%s'", part, text);
    find(part);
    free(part);
}

static void take_a_step(void)
{
    static const enum key_code keys[] = {PRESS_UP,        PRESS_DOWN, PRESS_PAGE_UP,
                                         PRESS_PAGE_DOWN, PRESS_HOME, PRESS_END};

    switch (any(12)) {
    case 0:
        change_the_book();
        break;
    case 1:
        find_something();
        break;
    case 2:
        find_what_is_said();
        break;
    case 3:
        rack.with_struck = !rack.with_struck;
        load(any(4) > 0 ? NULL : trials[any(2)].name);
        break;
    case 4:
        ck_assert_int_eq(rack_prepare(&rack, 1 + (int)any(12), &e), 0);
        break;
    default:
        press(keys[any(6)]);
        break;
    }
}

START_TEST(a_walk_sees_what_a_whole_list_would_show)
{
    state = test_seed(8);
    for (int i = 0; i < 40; i++)
        log_coupon(any(4) == 0);
    load("corner");
    for (int i = 0; i < 400; i++) {
        take_a_step();
        expect_as_whole();
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/rack_window");
    TCase *t = tcase_create("window");

    tcase_add_checked_fixture(t, begin, end);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, nothing_was_loaded);
    tcase_add_test(t, an_empty_trial);
    tcase_add_test(t, pages_from_end_to_end);
    tcase_add_test(t, the_focus_stays_at_its_coupon);
    tcase_add_test(t, a_search_goes_on_in_slices);
    tcase_add_test(t, letters_that_are_only_kept_as_written);
    tcase_add_test(t, a_walk_sees_what_a_whole_list_would_show);
    suite_add_tcase(s, t);
    return s;
}
