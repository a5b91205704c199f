/*
 * A program that is killed, again and again, while a coupon is being written: what was accepted and
 * what was being typed is there again, and in the end every field is as it was written.
 *
 * The seed is printed; COLDLAP_SEED=… writes and kills the same way again.
 */
#include "run.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/session.h"
#include "app/task_coupon.h"
#include "base/mem.h"
#include "model/part.h"
#include "scratch.h"
#include "terminal.h"

enum { FIELDS = 14, SHORT_LABEL = 24 };

static const struct setup bench = {.columns = 100, .rows = 40, .book = "b.coldlap"};
static struct terminal *t;
static struct variable_list variables;
static char *written[96]; /* as typed, by variable; NULL: not at all */
static bool begun;        /* there is a card that is not saved */
static unsigned long long state;

static size_t roll(size_t sides)
{
    state = state * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(state >> 33) % sides;
}

static void start(void)
{
    t = terminal_start(&bench);
    if (begun) {
        ck_assert(terminal_shows(t, "Coupon 08 of trial corner was being"));
        terminal_press(t, "g");
    } else {
        ck_assert(terminal_shows(t, "Trial corner"));
        terminal_press(t, "n");
        begun = true;
    }
}

static void die(void)
{
    kill(terminal_pid(t), SIGKILL);
    ck_assert_int_eq(terminal_end(t), 128 + SIGKILL);
    terminal_stop(t);
}

static void kill_it(void)
{
    die();
    start();
}

/* Rows from the first one of the card to that of a variable under which something can be typed. */
static size_t place(size_t at)
{
    size_t rows = 0;

    while (part_coupon_rows[rows].key != NULL)
        rows++;
    for (size_t i = 0; i < variables.count; i++)
        rows += variables.items[i].group < variables.items[at].group ||
                (i < at && variables.items[i].group == variables.items[at].group);
    return rows;
}

static bool can_be_typed(const struct variable *v)
{
    return v->kind == VARIABLE_NUMBER && v->group < GROUP_RESULT && v->choices == NULL &&
           v->dimension != DIM_NUMBER && v->dimension != DIM_COUNT && v->dimension != DIM_ANGLE &&
           !range_open(v->usual) && isfinite(v->usual.high);
}

static char *usual_number(const struct variable *v)
{
    return mem_format("%.4g %s",
                      v->usual.low + (v->usual.high - v->usual.low) * (double)(1 + roll(7)) / 8,
                      unit_base(v->dimension)->symbol);
}

static void assert_focus(const char *label)
{
    char *row = mem_format("> %.*s", SHORT_LABEL, label);

    ck_assert_msg(terminal_cursor_row_holds(t, row), "the cursor is not on '%s'", row);
    free(row);
}

static void write_field(size_t at)
{
    const struct variable *v = &variables.items[at];
    char *text = usual_number(v);

    terminal_press(t, "Home");
    for (size_t i = place(at); i > 0; i--)
        terminal_press(t, "Down");
    assert_focus(v->label);
    terminal_type(t, text);
    ck_assert(terminal_cursor_row_holds(t, text));
    if (roll(3) == 0 && (written[at] == NULL || strcmp(text, written[at]) != 0)) {
        /* in the middle of typing */
        kill_it();
        assert_focus(v->label);
        ck_assert(terminal_cursor_row_holds(t, text));
    }
    terminal_press(t, "Enter Home");
    assert_focus("Mark");
    free(written[at]);
    written[at] = text;
    if (roll(2) == 0) {
        kill_it();
        ck_assert(terminal_shows(t, "Coupon 08, new"));
    }
}

/* Numbers that stand in no other row: while the screen is painted the cursor is in many of them. */
static void write_a_pass(void)
{
    terminal_press(t, "p");
    ck_assert(terminal_shows(t, "pass 1"));
    if (roll(2) == 0) { /* nothing is in it yet: it is none */
        kill_it();
        ck_assert(terminal_shows(t, "Coupon 08, new"));
        terminal_press(t, "p");
        ck_assert(terminal_shows(t, "pass 1"));
    }
    terminal_press(t, "Down");
    terminal_type(t, "35.25");
    if (roll(2) == 0) {
        ck_assert(terminal_cursor_row_holds(t, "35.25"));
        kill_it();
        ck_assert(terminal_shows(t, "pass 1"));
    }
    terminal_press(t, "Enter");
    terminal_type(t, "101.75");
    ck_assert(terminal_cursor_row_holds(t, "101.75"));
    kill_it();
    ck_assert(terminal_shows(t, "pass 1"));
    ck_assert(terminal_shows(t, "35.2"));
    ck_assert(terminal_cursor_row_holds(t, "101.75"));
    terminal_press(t, "Enter Esc");
    ck_assert(terminal_shows(t, "Coupon 08, new"));
}

static void answer_a_question(void)
{
    terminal_press(t, "h");
    ck_assert(terminal_shows(t, "Which file is the photograph in?"));
    terminal_type(t, "face\\08");
    ck_assert(terminal_cursor_row_holds(t, "face\\08"));
    kill_it();
    ck_assert(terminal_shows(t, "What was typed is there again"));
    terminal_press(t, "h");
    ck_assert(terminal_cursor_row_holds(t, "face\\08"));
    terminal_press(t, "Esc");
}

static void assert_all_stored(void)
{
    struct session s;
    struct coupon c;
    struct error e = {0};
    size_t compared = 0;

    ck_assert_msg(session_open(&s, bench.book, BOOK_READ, &e) == 0, "%s", e.text);
    ck_assert_msg(task_coupon(&s, "08", &c, &e) == 0, "%s", e.text);
    for (size_t i = 0; i < variables.count; i++) {
        const struct value *value = coupon_value(&c, variables.items[i].key);

        if (written[i] == NULL)
            continue;
        ck_assert_msg(value != NULL && strcmp(value->text, written[i]) == 0, "%s is '%s', not '%s'",
                      variables.items[i].key, value == NULL ? "" : value->text, written[i]);
        free(written[i]);
        compared++;
    }
    ck_assert_uint_gt(compared, 0);
    ck_assert_uint_eq(c.pass_count, 1);
    ck_assert_double_eq(c.passes[0].arc_s, 35.25);
    ck_assert_double_eq(c.passes[0].length_mm, 101.75);
    coupon_free(&c);
    session_close(&s);
}

START_TEST(nothing_written_is_lost)
{
    size_t with_pass, with_question;

    state = test_seed((unsigned)time(NULL));
    with_pass = roll(FIELDS);
    with_question = roll(FIELDS);
    scratch_bench();
    variable_list_init(&variables);
    start();
    for (size_t i = 0; i < FIELDS; i++) {
        size_t at = roll(variables.count);

        while (!can_be_typed(&variables.items[at]))
            at = (at + 1) % variables.count;
        write_field(at);
        if (i == with_pass)
            write_a_pass();
        if (i == with_question)
            answer_a_question();
    }
    kill_it();
    terminal_press(t, "s");
    ck_assert(terminal_shows(t, "Coupon 08 is saved"));
    die();
    assert_all_stored();
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Trial corner")); /* and nothing is offered */
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
    ck_assert_int_eq(system("test -z \"$(ls state/coldlap/drafts)\""), 0);
    variable_list_free(&variables);
}
END_TEST

/* A question on the rack. */
START_TEST(a_reason_that_was_being_typed_is_asked_for_again)
{
    scratch_bench();
    t = terminal_start(&bench);
    ck_assert(terminal_cursor_row_holds(t, "> 06"));
    terminal_press(t, "x");
    ck_assert(terminal_shows(t, "Why is coupon 06 struck out?"));
    terminal_type(t, "wrong gas");
    ck_assert(terminal_cursor_row_holds(t, "wrong gas"));
    begun = false;
    die();
    for (int start_again = 0; start_again < 2; start_again++) {
        t = terminal_start(&bench);
        ck_assert(terminal_shows(t, "This was being answered"));
        ck_assert(terminal_shows(t, "'wrong gas'"));
        terminal_press(t, "g");
        ck_assert(terminal_shows(t, "What was typed is there again"));
        if (start_again == 0) { /* not asked yet: it stays for the next start */
            terminal_press(t, "q");
            ck_assert_int_eq(terminal_end(t), 0);
            terminal_stop(t);
        }
    }
    terminal_press(t, "x");
    ck_assert(terminal_cursor_row_holds(t, "wrong gas"));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Coupon 06 is struck out"));
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
    ck_assert_int_eq(system("test -z \"$(ls state/coldlap/drafts)\""), 0);
}
END_TEST

/* The question of a new trial was answered, its name was not. */
START_TEST(an_answer_is_there_again)
{
    scratch_enter();
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Press n to log the first one."));
    terminal_press(t, "n");
    terminal_type(t, "Does it hold?");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "What is the trial called?"));
    terminal_type(t, "x");
    ck_assert(terminal_cursor_row_holds(t, "firstx"));
    die();
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Does it hold?"));
    terminal_press(t, "g n");
    ck_assert(terminal_cursor_row_holds(t, "Does it hold?"));
    terminal_press(t, "Enter");
    ck_assert(terminal_cursor_row_holds(t, "firstx"));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Coupon 01, new"));
    terminal_press(t, "Esc");
    ck_assert(terminal_shows(t, "Trial firstx: Does it hold?"));
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
    ck_assert_int_eq(system("test -z \"$(ls state/coldlap/drafts)\""), 0);
}
END_TEST

/* Two screens of one book; one is killed, the other goes on. */
START_TEST(two_screens_have_two_drafts)
{
    struct terminal *first, *second, *third;

    scratch_bench();
    first = terminal_start(&bench);
    terminal_press(first, "n Tab Tab Down");
    terminal_type(first, "1.2");
    ck_assert(terminal_cursor_row_holds(first, "1.2"));
    second = terminal_start(&bench);
    ck_assert(terminal_cursor_row_holds(second, "> 06")); /* the first one's is left alone */
    terminal_press(second, "n Tab Tab Down");
    terminal_type(second, "1.6");
    ck_assert(terminal_cursor_row_holds(second, "1.6"));
    kill(terminal_pid(second), SIGKILL);
    ck_assert_int_eq(terminal_end(second), 128 + SIGKILL);
    terminal_stop(second);
    third = terminal_start(&bench);
    ck_assert(terminal_shows(third, "Coupon 08 of trial corner was being"));
    terminal_press(third, "k"); /* for later */
    ck_assert(terminal_cursor_row_holds(third, "> 06"));
    terminal_press(third, "q");
    ck_assert_int_eq(terminal_end(third), 0);
    terminal_stop(third);
    third = terminal_start(&bench);
    ck_assert(terminal_shows(third, "Coupon 08 of trial corner was being"));
    terminal_press(third, "g");
    ck_assert(terminal_cursor_row_holds(third, "1.6"));
    terminal_press(first, "Enter s");
    ck_assert(terminal_shows(first, "Coupon 08 is saved"));
    terminal_press(third, "Enter s");
    ck_assert(terminal_shows(third, "Coupon 09 is saved"));
    terminal_press(first, "q");
    ck_assert_int_eq(terminal_end(first), 0);
    terminal_stop(first);
    terminal_press(third, "q");
    ck_assert_int_eq(terminal_end(third), 0);
    terminal_stop(third);
}
END_TEST

/* A file stands where the state folder would be, and nothing can be stored in the book either. */
START_TEST(a_card_that_could_be_lost_says_so_once)
{
    scratch_bench();
    ck_assert_int_eq(system("touch state"), 0);
    t = terminal_start(&bench);
    terminal_press(t, "n");
    ck_assert(terminal_shows(t, "Coupon 08, new"));
    ck_assert_int_eq(system("rm b.coldlap"), 0);
    terminal_press(t, "Tab Tab Down");
    terminal_type(t, "1");
    ck_assert(terminal_shows(t, "what is not saved is lost"));
    terminal_type(t, ".2");
    ck_assert(terminal_hides(t, "what is not saved is lost"));
    kill(terminal_pid(t), SIGTERM);
    ck_assert_int_eq(terminal_end(t), 128 + SIGTERM);
    ck_assert(terminal_shows(t, "could be kept nowhere"));
    terminal_stop(t);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/kill");
    TCase *c = tcase_create("kill");

    tcase_set_timeout(c, 300);
    tcase_add_unchecked_fixture(c, scratch_begin_with_bench, scratch_end);
    tcase_add_test(c, nothing_written_is_lost);
    tcase_add_test(c, a_reason_that_was_being_typed_is_asked_for_again);
    tcase_add_test(c, an_answer_is_there_again);
    tcase_add_test(c, two_screens_have_two_drafts);
    tcase_add_test(c, a_card_that_could_be_lost_says_so_once);
    suite_add_tcase(s, c);
    return s;
}
