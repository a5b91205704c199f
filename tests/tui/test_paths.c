/* What somebody does with the screens, from the first start on. */
#include "run.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "scratch.h"
#include "terminal.h"

static const struct setup bench = {.columns = 80, .rows = 22, .book = "b.coldlap"};

static void quit(struct terminal *t)
{
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}

static void write_into(struct terminal *t, const char *field, const char *text)
{
    ck_assert(terminal_cursor_row_holds(t, field));
    terminal_press(t, "Enter");
    terminal_type(t, text);
    terminal_press(t, "Enter");
}

START_TEST(the_first_coupon)
{
    struct terminal *t;
    char *list, *shown;

    scratch_enter();
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Press n to log the first one."));
    terminal_press(t, "n");
    ck_assert(terminal_shows(t, "What is this trial to answer?"));
    terminal_type(t, "Does a second side help?");
    terminal_press(t, "Enter Enter");
    ck_assert(terminal_shows(t, "Coupon 01, new"));
    terminal_press(t, "Down Down");
    write_into(t, "> Logged by", "Kai");
    terminal_press(t, "Tab Down");
    write_into(t, "> Wire diameter", ".045in");
    ck_assert(terminal_shows(t, ".045 in (1.14 mm)"));
    terminal_press(t, "Tab Tab Tab Down Down Enter"); /* sides welded: the choices */
    ck_assert(terminal_shows(t, "write something else"));
    terminal_press(t, "Down Enter");
    ck_assert(terminal_shows(t, "both"));
    terminal_press(t, "Tab Tab Tab Tab Right Right Right Right");
    ck_assert(terminal_cursor_row_holds(t, "not bent yet")); /* all the way round */
    terminal_press(t, "Left");
    ck_assert(terminal_cursor_row_holds(t, "held to the stop"));
    terminal_press(t, "Down Down");
    terminal_type(t, "90"); /* a digit writes at once */
    terminal_press(t, "Enter");
    terminal_type(t, "0");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Bend angle at least 90"));
    terminal_press(t, "s");
    ck_assert(terminal_shows(t, "Coupon 01 is saved in b.coldlap."));
    ck_assert(terminal_cursor_row_holds(t, "> 01"));
    ck_assert(terminal_shows(t, "at least 90°"));
    quit(t);
    list = command_output("b.coldlap", "list");
    ck_assert_ptr_nonnull(strstr(list, "Does a second side help?"));
    ck_assert_ptr_nonnull(strstr(list, "at least 90°"));
    shown = command_output("b.coldlap", "show 01");
    ck_assert_ptr_nonnull(strstr(shown, "Kai"));
    ck_assert_ptr_nonnull(strstr(shown, "both"));
    ck_assert_ptr_nonnull(strstr(shown, ".045 in"));
    free(list);
    free(shown);
}
END_TEST

START_TEST(a_pass_and_a_flaw)
{
    struct terminal *t;
    char *shown;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "n p");
    ck_assert(terminal_shows(t, "Coupon 08, pass 1"));
    terminal_press(t, "Right");
    ck_assert(terminal_cursor_row_holds(t, "> Side                      1"));
    terminal_press(t, "Down");
    terminal_type(t, "20");
    terminal_press(t, "Enter");
    terminal_type(t, "100");
    terminal_press(t, "Enter");
    terminal_type(t, "400");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "400 V cannot be"));
    ck_assert(terminal_cursor_row_holds(t, "400")); /* still there to be put right */
    terminal_press(t, "Backspace");
    ck_assert(terminal_cursor_row_holds(t, "> Volts                     40 "));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "keep it, it is right"));
    terminal_press(t, "w");
    ck_assert(terminal_cursor_row_holds(t, "> Volts                     40 "));
    terminal_press(t, "Backspace Backspace");
    terminal_type(t, "18.5 V");
    terminal_press(t, "Enter");
    terminal_type(t, "140");
    terminal_press(t, "Enter Esc");
    ck_assert(terminal_shows(t, "Arc energy of pass 1 0.518"));
    ck_assert(terminal_shows(t, "side 1, arc 20 s, length 100 mm, 18.5 V, 140 A"));
    terminal_press(t, "f");
    terminal_type(t, "0");
    terminal_press(t, "Enter");
    terminal_type(t, "12");
    terminal_press(t, "Enter");
    terminal_type(t, "4013");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "4013 lack of root fusion"));
    terminal_press(t, "Esc s");
    ck_assert(terminal_shows(t, "Coupon 08 is saved"));
    quit(t);
    shown = command_output("b.coldlap", "show 08");
    ck_assert_ptr_nonnull(strstr(shown, "4013"));
    ck_assert_ptr_nonnull(strstr(shown, "18.5 V"));
    free(shown);
}
END_TEST

START_TEST(a_flaw_lies_on_the_face)
{
    struct terminal *t;
    char *shown;

    scratch_bench();
    free(command_output("b.coldlap", "change 06 --face 60"));
    t = terminal_start(&bench);
    terminal_press(t, "End Enter f");
    ck_assert(terminal_shows(t, "Coupon 06, flaw 1"));
    terminal_press(t, "Down");
    terminal_type(t, "70");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "a flaw ends at 70 mm, but the face is 60 mm long"));
    terminal_press(t, "Backspace Backspace");
    terminal_type(t, "50");
    terminal_press(t, "Enter");
    ck_assert(terminal_hides(t, "the face is 60 mm long"));
    terminal_press(t, "Up Up");
    terminal_type(t, "55");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "a flaw ends at 50 mm, but begins at 55 mm"));
    terminal_press(t, "Backspace Backspace");
    terminal_type(t, "20");
    terminal_press(t, "Enter Down");
    terminal_type(t, "4013");
    terminal_press(t, "Enter Esc Up Up Up");
    ck_assert(terminal_cursor_row_holds(t, "> Length of face read"));
    terminal_type(t, "40");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "a flaw ends at 50 mm, but the face is 40 mm long"));
    terminal_press(t, "Esc s");
    ck_assert(terminal_shows(t, "Coupon 06 is saved"));
    quit(t);
    shown = command_output("b.coldlap", "show 06");
    ck_assert_ptr_nonnull(strstr(shown, "20 mm  50 mm        4013"));
    free(shown);
}
END_TEST

/* A new coupon has no passes yet; that is not a change against one that has. */
START_TEST(what_is_not_welded_yet_does_not_differ)
{
    struct terminal *t;

    scratch_bench();
    free(command_output("b.coldlap", "change 06 --pass 'side=1 arc=20s length=100mm'"));
    t = terminal_start(&bench);
    terminal_press(t, "n");
    ck_assert(terminal_shows(t, "Nothing differs from 06"));
    terminal_press(t, "p Down");
    terminal_type(t, "60");
    terminal_press(t, "Enter");
    terminal_type(t, "100");
    terminal_press(t, "Enter Esc");
    ck_assert(terminal_shows(t, "One thing differs from 06: travel speed"));
    terminal_press(t, "Esc d");
    quit(t);
}
END_TEST

START_TEST(taking_away_and_leaving_unsaved)
{
    struct terminal *t;
    char *before, *after;

    scratch_bench();
    before = command_output("b.coldlap", "show 02");
    t = terminal_start(&bench);
    terminal_press(t, "Home Down Enter Tab Tab Tab Tab Tab Tab Tab Tab");
    ck_assert(terminal_cursor_row_holds(t, "> Pass 1"));
    terminal_press(t, "d");
    ck_assert(terminal_shows(t, "Take 'Pass 1' away?"));
    terminal_press(t, "y");
    ck_assert(terminal_hides(t, "Pass 2"));
    terminal_press(t, "Esc");
    ck_assert(terminal_shows(t, "Coupon 02 is not saved yet."));
    terminal_press(t, "Esc");
    ck_assert(terminal_hides(t, "is not saved yet."));
    terminal_press(t, "Esc d");
    ck_assert(terminal_shows(t, "Trial corner"));
    quit(t);
    after = command_output("b.coldlap", "show 02");
    ck_assert_str_eq(after, before);
    free(before);
    free(after);
}
END_TEST

START_TEST(striking_out_and_bringing_back)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "x");
    ck_assert(terminal_shows(t, "Why is coupon 06 struck out?"));
    terminal_press(t, "Enter"); /* a reason has to be given */
    ck_assert(terminal_shows(t, "say why it is struck out"));
    terminal_press(t, "x");
    terminal_type(t, "bent cold");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Coupon 06 is struck out"));
    ck_assert(terminal_cursor_row_holds(t, "> 05"));
    terminal_press(t, "a End Up");
    ck_assert(terminal_cursor_row_holds(t, "> 06"));
    ck_assert(terminal_shows(t, "struck out: bent cold"));
    terminal_press(t, "x y");
    ck_assert(terminal_shows(t, "Coupon 06 counts again."));
    ck_assert(terminal_hides(t, "struck out: bent cold"));
    quit(t);
}
END_TEST

START_TEST(finding)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "/");
    terminal_type(t, "SAME AS");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "1 of 6 coupons, holding 'SAME AS'"));
    ck_assert(terminal_cursor_row_holds(t, "> 06"));
    terminal_press(t, "/");
    terminal_type(t, " zzz");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "No coupon holds these letters."));
    terminal_press(t, "Esc");
    ck_assert(terminal_shows(t, "All coupons are shown again."));
    ck_assert(terminal_hides(t, "holding"));
    quit(t);
}
END_TEST

START_TEST(units_switch_and_stored_values_stay)
{
    struct terminal *t;
    char *shown;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "u");
    ck_assert(terminal_shows(t, "shown in inch units"));
    terminal_press(t, "Home Enter Tab Tab Down");
    ck_assert(terminal_cursor_row_holds(t, "1.2 mm (0.047 in)"));
    terminal_press(t, "Esc q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
    shown = command_output("b.coldlap", "--units metric show 01");
    ck_assert_ptr_nonnull(strstr(shown, "1.2 mm"));
    free(shown);
}
END_TEST

START_TEST(trials_are_chosen_and_made)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "t");
    ck_assert(terminal_shows(t, "make a new trial"));
    terminal_press(t, "+");
    terminal_type(t, "Which gas?");
    terminal_press(t, "Enter");
    terminal_type(t, "gas");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Trial gas: Which gas?"));
    terminal_press(t, "t Up Enter");
    ck_assert(terminal_shows(t, "Trial corner"));
    quit(t);
}
END_TEST

START_TEST(others_write_into_the_same_book)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    ck_assert(terminal_cursor_row_holds(t, "> 06"));
    free(command_output("b.coldlap", "log wire_lot=C"));
    ck_assert(terminal_shows(t, "7 coupons"));
    ck_assert(terminal_shows(t, "Another program wrote into this book"));
    ck_assert(terminal_cursor_row_holds(t, "> 06")); /* the focus stays where it was */
    quit(t);
}
END_TEST

START_TEST(two_write_the_same_card)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "Enter Down Down Enter");
    terminal_type(t, "Kai");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "not saved yet"));
    free(command_output("b.coldlap", "change 06 note=theirs"));
    terminal_press(t, "s");
    ck_assert(terminal_shows(t, "06"));
    ck_assert(terminal_shows(t, "meanwhile"));
    ck_assert(terminal_shows(t, "Kai")); /* refused, and nothing typed is lost */
    terminal_press(t, "Esc d");
    quit(t);
}
END_TEST

START_TEST(pasted_text_is_text)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "n Down Down Enter");
    terminal_type(t, "\033[200~Kai\rq s x\033[201~");
    ck_assert(terminal_cursor_row_holds(t, "Kai q s x"));
    terminal_press(t, "Enter");
    ck_assert(terminal_cursor_row_holds(t, "> Process"));
    terminal_press(t, "Esc d");
    quit(t);
}
END_TEST

START_TEST(an_unusual_value_is_asked_about)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "6");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "6 mm is unusual"));
    terminal_press(t, "Esc");
    ck_assert(terminal_hides(t, "keep it"));
    ck_assert(terminal_shows(t, "Nothing differs from 06")); /* not taken yet */
    ck_assert(terminal_cursor_row_holds(t, "Wire diameter             6 "));
    terminal_press(t, "Enter k");
    ck_assert(terminal_shows(t, "One thing differs from 06: wire diameter"));
    terminal_press(t, "Up");
    ck_assert(terminal_cursor_row_holds(t, "> Wire diameter             6 mm"));
    terminal_press(t, "d y");
    ck_assert(terminal_shows(t, "differs from 06"));
    terminal_press(t, "Esc d");
    quit(t);
}
END_TEST

START_TEST(two_levels_side_by_side)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "r Enter");
    ck_assert(terminal_shows(t, "Only the lines of the table lead somewhere."));
    ck_assert(terminal_walks_to(t, "Down", "1  Sides welded"));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "Side by side"));
    ck_assert(terminal_shows(t, "both"));
    terminal_press(t, "Esc");
    ck_assert(terminal_shows(t, "Ranking of trial corner"));
    terminal_press(t, "o Down Enter");
    ck_assert(terminal_shows(t, "Fused share"));
    terminal_press(t, "Esc");
    quit(t);
}
END_TEST

/* A trial that takes far longer to rank than the first message waits: two hundred coupons, half of
 * them "at least", and fifty variables of which forty do a little. */
static void make_long_trial(void)
{
    FILE *out = fopen("long.csv", "w");
    unsigned random = 1;

    fputs("mark", out);
    for (int i = 0; i < 50; i++)
        fprintf(out, ",v%d", i);
    fputs(",bend_angle\n", out);
    for (int mark = 1; mark <= 200; mark++) {
        int angle = 30;

        fprintf(out, "%d", mark);
        for (int i = 0; i < 50; i++) {
            bool high = (random = random * 1103515245u + 12345u) >> 16 & 1;

            fputs(high ? ",high" : ",low", out);
            angle += high && i < 40 ? 2 : 0;
        }
        random = random * 1103515245u + 12345u;
        fprintf(out, ",%d%s\n", angle + (int)((random >> 16) % 30), mark % 2 == 0 ? "+" : "");
    }
    ck_assert_int_eq(fclose(out), 0);
    free(command_output("b.coldlap", "import --trial long long.csv"));
}

START_TEST(a_long_ranking_tells_how_far_it_is_and_can_be_stopped)
{
    struct terminal *t;

    scratch_enter();
    make_long_trial();
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "200 coupons"));
    terminal_press(t, "r");
    ck_assert(terminal_shows(t, " % done. Esc stops it."));
    terminal_press(t, "x"); /* no other key does */
    terminal_press(t, "Esc");
    ck_assert(terminal_shows(t, "No ranking yet"));
    ck_assert(terminal_shows(t, "Stopped before the ranking was done."));
    ck_assert(terminal_hides(t, "Esc stops it."));
    terminal_press(t, "Esc r");
    ck_assert(terminal_shows(t, " % done. Esc stops it."));
    kill(terminal_pid(t), SIGTERM);
    ck_assert_int_eq(terminal_end(t), 128 + SIGTERM);
    terminal_stop(t);
}
END_TEST

START_TEST(a_photograph_is_attached)
{
    struct terminal *t;
    char *shown;
    FILE *file;

    scratch_bench();
    file = fopen("face.jpg", "w");
    fputs("the broken face", file);
    fclose(file);
    t = terminal_start(&bench);
    terminal_press(t, "Enter h");
    terminal_type(t, "nowhere.jpg");
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "nowhere.jpg: No such file"));
    terminal_press(t, "h");
    terminal_type(t, "face.jpg");
    terminal_press(t, "Enter s");
    ck_assert(terminal_shows(t, "Coupon 06 is saved"));
    quit(t);
    shown = command_output("b.coldlap", "show 06");
    ck_assert_ptr_nonnull(strstr(shown, "face.jpg"));
    free(shown);
}
END_TEST

/* A keypad with and without its digits, in both modes; keys nobody knows do nothing. */
START_TEST(keypads_and_strange_keys)
{
    static const struct setup setups[] = {
        {.columns = 80, .rows = 22, .book = "b.coldlap"},
        {.columns = 80, .rows = 22, .term = "vt100", .book = "b.coldlap"},
        {.columns = 80, .rows = 22, .term = "linux", .book = "b.coldlap"},
    };
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&setups[_i]);
    terminal_type(t, "\033OM"); /* Enter of the keypad */
    ck_assert(terminal_shows(t, "Coupon 06"));
    terminal_type(t, "\t\t\033OB"); /* Tab Tab Down */
    ck_assert(terminal_cursor_row_holds(t, "> Wire diameter"));
    terminal_type(t, "\033Oq\033On\033Or\033OM"); /* 1 . 2 Enter */
    ck_assert(terminal_shows(t, "1.2 mm"));
    terminal_type(t, "\033[15;5~\033[25~\033[1;3P\033OZ"); /* function keys of all kinds */
    terminal_type(t, "\033[A");                            /* Up, in normal mode */
    ck_assert(terminal_cursor_row_holds(t, "> Wire diameter"));
    terminal_press(t, "Esc d");
    quit(t);
}
END_TEST

static void shake(struct terminal *t, unsigned *seed)
{
    static const char *const presses[] = {"Down", "Up", "Tab", "PageDown", "PageUp", "Home", "End"};

    *seed = *seed * 1103515245u + 12345u;
    terminal_resize(t, 2 + (int)(*seed >> 16) % 140, 2 + (int)(*seed >> 8) % 50);
    terminal_press(t, presses[(*seed >> 20) % (sizeof presses / sizeof *presses)]);
}

START_TEST(a_storm_of_resizes)
{
    struct terminal *t;
    unsigned seed = test_seed(7);

    scratch_bench();
    t = terminal_start(&bench);
    terminal_look_away(t);
    for (size_t i = 0; i < 4; i++) {
        static const char *const screens[] = {"Down", "Enter", "r", "?"};

        terminal_press(t, screens[i]); /* one over the other, and all of them shaken */
        for (int j = 0; j < 100; j++)
            shake(t, &seed);
    }
    terminal_look_again(t, 80, 22);
    terminal_press(t, "Home");
    ck_assert(terminal_shows(t, "What the keys do here"));
    terminal_press(t, "Esc Esc Esc End");
    ck_assert(terminal_matches(t, "rack-80x22"));
    quit(t);
}
END_TEST

/* Thousands of bytes without sense, without those that mean "end" to the line. */
START_TEST(senseless_input)
{
    struct terminal *t;
    unsigned seed = test_seed(1) + (unsigned)_i;
    char byte[2] = "";

    scratch_bench();
    t = terminal_start(&bench);
    for (int i = 0; i < 6000; i++) {
        seed = seed * 1103515245u + 12345u;
        byte[0] = (char)(1 + (seed >> 16) % 255);
        if (strchr("\003\032\034q", byte[0]) == NULL)
            terminal_type(t, byte);
    }
    kill(terminal_pid(t), SIGTERM);
    ck_assert_int_eq(terminal_end(t), 128 + SIGTERM);
    terminal_stop(t);
    free(command_output("b.coldlap", "check"));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/paths");
    TCase *t = tcase_create("paths");

    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, scratch_begin_with_bench, scratch_end);
    tcase_add_test(t, the_first_coupon);
    tcase_add_test(t, a_pass_and_a_flaw);
    tcase_add_test(t, a_flaw_lies_on_the_face);
    tcase_add_test(t, what_is_not_welded_yet_does_not_differ);
    tcase_add_test(t, taking_away_and_leaving_unsaved);
    tcase_add_test(t, striking_out_and_bringing_back);
    tcase_add_test(t, finding);
    tcase_add_test(t, units_switch_and_stored_values_stay);
    tcase_add_test(t, trials_are_chosen_and_made);
    tcase_add_test(t, others_write_into_the_same_book);
    tcase_add_test(t, two_write_the_same_card);
    tcase_add_test(t, pasted_text_is_text);
    tcase_add_loop_test(t, keypads_and_strange_keys, 0, 3);
    tcase_add_test(t, an_unusual_value_is_asked_about);
    tcase_add_test(t, two_levels_side_by_side);
    tcase_add_test(t, a_long_ranking_tells_how_far_it_is_and_can_be_stopped);
    tcase_add_test(t, a_photograph_is_attached);
    tcase_add_test(t, a_storm_of_resizes);
    tcase_add_loop_test(t, senseless_input, 0, 3);
    suite_add_tcase(s, t);
    return s;
}
