/*
 * A walk of random actions on the journal beside a plain model of the book. A thing of the model is
 * a coupon, the trial or the setting; a change has the other state of each thing it touched. The
 * seed is printed; COLDLAP_SEED=N walks the same way again.
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/settings.h"
#include "store/trials.h"

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

static void reopen(void)
{
    book_close(book);
    book = scratch_open(at.book, BOOK_WRITE);
    journal_sign(book, "bench 1", NULL);
}

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
    c = scratch_load(book, thing - COUPONS + 1);
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
    c = scratch_load(book, thing - COUPONS + 1);
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
    scratch_units_are(book, now[A_SETTING].there ? units_of(now[A_SETTING].words) : NULL);
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
            reopen();
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
    Suite *s = suite_create("store/journal_walk");
    TCase *t = tcase_create("journal_walk");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 900);
    tcase_add_test(t, a_random_walk_agrees_with_a_plain_model);
    suite_add_tcase(s, t);
    return s;
}
