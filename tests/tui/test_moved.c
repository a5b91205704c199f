/* The book goes away, or another takes its place, while a screen has it open. */
#include "run.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "terminal.h"

static const struct setup bench = {.columns = 100, .rows = 30, .book = "b.coldlap"};
static struct terminal *t;

static void quit(void)
{
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}

static void shell(const char *line)
{
    ck_assert_msg(system(line) == 0, "failed: %s", line);
}

static bool list_holds(const char *book, const char *words)
{
    char *list = command_output(book, "list");
    bool holds = strstr(list, words) != NULL;

    free(command_output(book, "check"));
    free(list);
    return holds;
}

/* A coupon is saved by the screen, so that what SQLite keeps beside the book is in use, and a
 * second one is begun. The backup "old" has neither. */
static void begin_card(void)
{
    scratch_bench();
    free(command_output("b.coldlap", "backup old"));
    shell("cp b.coldlap lost");
    t = terminal_start(&bench);
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "1.2");
    terminal_press(t, "Enter s");
    ck_assert(terminal_shows(t, "Coupon 08 is saved"));
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "1.6");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "not saved yet"));
}

static const struct {
    const char *move, *back; /* shell lines */
    const char *there;       /* what is at the path then; NULL: nothing */
} moves[] = {
    {"ln b.coldlap kept && rm b.coldlap", "mv kept b.coldlap", NULL},
    {"mv b.coldlap kept", "mv kept b.coldlap", NULL},
    {"mv b.coldlap kept && cp old new && mv new b.coldlap",
     "mv b.coldlap old2 && mv kept b.coldlap", "old"},
};

/* It is said at the next look, nothing is stored, and the card is kept; once the book is back it
 * can be saved. */
START_TEST(nothing_is_stored_elsewhere)
{
    begin_card();
    shell(moves[_i].move);
    ck_assert(terminal_shows(t, "the book was moved, removed or replaced while it was open"));
    terminal_press(t, "s");
    ck_assert(terminal_shows(t, "What was written is"));
    terminal_press(t, "b");
    ck_assert(terminal_hides(t, "What was written is"));
    ck_assert(terminal_shows(t, "Coupon 09, new"));
    ck_assert(!list_holds("kept", "09 "));
    ck_assert(list_holds("kept", "08 "));
    if (moves[_i].there != NULL) {
        shell("cmp b.coldlap old");
        ck_assert(!list_holds("b.coldlap", "08 "));
    }
    shell(moves[_i].back);
    terminal_press(t, "s");
    ck_assert(terminal_shows(t, "Coupon 09 is saved"));
    quit();
    ck_assert(list_holds("b.coldlap", "09 "));
    if (moves[_i].there != NULL)
        shell("cmp old2 old");
}
END_TEST

/* The screen is left, or killed, without the book: the one in its place is as it was, and the card
 * is offered there. */
START_TEST(the_one_in_its_place_is_left_as_it_is)
{
    begin_card();
    shell(moves[2].move);
    ck_assert(terminal_shows(t, "the book was moved, removed or replaced while it was open"));
    kill(terminal_pid(t), _i == 0 ? SIGKILL : SIGTERM);
    ck_assert_int_gt(terminal_end(t), 128);
    if (_i == 1)
        ck_assert(terminal_shows(t, "what was not saved is kept in"));
    terminal_stop(t);
    shell("cmp b.coldlap old");
    ck_assert(!list_holds("b.coldlap", "08 "));
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Coupon 09 of trial corner was being"));
    terminal_press(t, "g");
    ck_assert(terminal_shows(t, "1.6 mm"));
    terminal_press(t, "s"); /* its number is free here */
    ck_assert(terminal_shows(t, "Coupon 08 is saved"));
    quit();
    ck_assert(list_holds("b.coldlap", "08 "));
}
END_TEST

/* The same file with other contents: the screen shows them, and stores into them. */
START_TEST(a_copy_over_it_is_taken_as_it_is)
{
    begin_card();
    shell("cp old b.coldlap");
    terminal_press(t, "s");
    ck_assert(terminal_shows(t, "Coupon 08 is saved"));
    quit();
    ck_assert(list_holds("b.coldlap", "08 "));
    ck_assert(!list_holds("b.coldlap", "09 "));
}
END_TEST

/* What was typed into a question is not lost to a save that was refused. */
START_TEST(a_reason_is_there_again)
{
    scratch_bench();
    t = terminal_start(&bench);
    ck_assert(terminal_cursor_row_holds(t, "> 06"));
    shell("mv b.coldlap kept");
    terminal_press(t, "x");
    terminal_type(t, "wrong gas");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "the book was moved, removed or replaced while it was open"));
    shell("mv kept b.coldlap");
    terminal_press(t, "x");
    ck_assert(terminal_cursor_row_holds(t, "wrong gas"));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Coupon 06 is struck out"));
    quit();
    shell("test -z \"$(ls state/coldlap/drafts)\"");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/moved");
    TCase *c = tcase_create("moved");

    tcase_set_timeout(c, 120);
    tcase_add_unchecked_fixture(c, scratch_begin_with_bench, scratch_end);
    tcase_add_loop_test(c, nothing_is_stored_elsewhere, 0, 3);
    tcase_add_loop_test(c, the_one_in_its_place_is_left_as_it_is, 0, 2);
    tcase_add_test(c, a_reason_is_there_again);
    tcase_add_test(c, a_copy_over_it_is_taken_as_it_is);
    suite_add_tcase(s, c);
    return s;
}
