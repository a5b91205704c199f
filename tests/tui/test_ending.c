/* Ends nobody asked for: signals, a lost line, a killed program, terminals that cannot be used. */
#include "run.h"

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"
#include "terminal.h"

static const struct setup bench = {.columns = 80, .rows = 22, .book = "b.coldlap"};

#if defined __has_feature
#if __has_feature(address_sanitizer) || __has_feature(undefined_behavior_sanitizer)
#define SANITIZED true
#endif
#elif defined __SANITIZE_ADDRESS__
#define SANITIZED true
#endif
#ifndef SANITIZED
#define SANITIZED false
#endif

static void assert_given_back(struct terminal *t)
{
    ck_assert(!terminal_alternate(t));
    ck_assert(terminal_cursor_visible(t));
    ck_assert(terminal_modes_restored(t));
    ck_assert(!terminal_brackets_paste(t));
}

static void assert_sound(void)
{
    char *said = command_output("b.coldlap", "check");

    free(said);
}

/* Every signal that ends a program by default, but SIGKILL. */
static const struct {
    int number;
    bool fault; /* a sanitizer reports it and exits with 1 */
} ends[] = {
    {SIGHUP, false},  {SIGINT, false},    {SIGQUIT, false}, {SIGTERM, false}, {SIGUSR1, false},
    {SIGUSR2, false}, {SIGALRM, false},   {SIGPROF, false}, {SIGXCPU, false}, {SIGVTALRM, false},
    {SIGIO, false},   {SIGSTKFLT, false}, {SIGPWR, false},  {SIGXFSZ, false}, {SIGSEGV, true},
    {SIGBUS, true},   {SIGFPE, true},     {SIGILL, true},   {SIGABRT, true},  {SIGTRAP, true},
    {SIGSYS, true},
};

static void assert_ends_by(int number, bool fault)
{
    struct terminal *t;
    int code;

    scratch_bench();
    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Trial corner"));
    ck_assert(terminal_alternate(t));
    ck_assert(terminal_brackets_paste(t));
    kill(terminal_pid(t), number);
    code = terminal_end(t);
    ck_assert_msg(terminal_signal(t) == number || (SANITIZED && fault && code == 1),
                  "signal %d: ended with %d", number, code);
    assert_given_back(t);
    terminal_stop(t);
}

START_TEST(signals_give_the_terminal_back)
{
    assert_ends_by(ends[_i].number, ends[_i].fault);
}
END_TEST

START_TEST(so_do_the_numbered_ones)
{
    assert_ends_by(_i == 0 ? SIGRTMIN : SIGRTMAX, false);
}
END_TEST

/* A signal the program was started to ignore does not end it; neither does a closed pipe. */
START_TEST(ignored_signals_end_nothing)
{
    struct setup s = bench;
    struct terminal *t;

    s.ignore_hang_up = true;
    scratch_bench();
    t = terminal_start(&s);
    ck_assert(terminal_shows(t, "Trial corner"));
    kill(terminal_pid(t), SIGHUP);
    kill(terminal_pid(t), SIGPIPE);
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    assert_given_back(t);
    terminal_stop(t);
}
END_TEST

START_TEST(what_was_typed_is_kept_and_offered_again)
{
    static const int signals[] = {SIGTERM, SIGHUP};
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "1.2");
    terminal_press(t, "Enter Down Down Down");
    terminal_type(t, "17,5x"); /* not even a number yet */
    ck_assert(terminal_cursor_row_holds(t, "17,5x"));
    kill(terminal_pid(t), signals[_i]);
    ck_assert_int_eq(terminal_end(t), 128 + signals[_i]);
    assert_given_back(t);
    terminal_stop(t);

    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Coupon 08 of trial corner was being"));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "1.2 mm"));
    ck_assert(terminal_cursor_row_holds(t, "17,5x"));
    terminal_press(t, "Esc s");
    ck_assert(terminal_shows(t, "Coupon 08 is saved"));
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);

    t = terminal_start(&bench); /* saved, so not offered once more */
    ck_assert(terminal_cursor_row_holds(t, "> 08"));
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

/* The book was put back to a copy from before the trial was made. */
static void lose_the_trial_of_the_draft(void)
{
    ck_assert_int_eq(system("sed -i 's/^trial .*/trial 018f0000-0000-7000-8000-000000000001/' "
                            "state/coldlap/drafts/*"),
                     0);
}

START_TEST(a_draft_without_its_trial_says_so)
{
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "1.2");
    ck_assert(terminal_cursor_row_holds(t, "1.2"));
    kill(terminal_pid(t), SIGHUP);
    ck_assert_int_eq(terminal_end(t), 128 + SIGHUP);
    terminal_stop(t);
    lose_the_trial_of_the_draft();

    for (int start = 0; start < 3; start++) {
        t = terminal_start(&bench);
        if (start < 2) {
            ck_assert(terminal_shows(t, "not in this book"));
            terminal_press(t, start == 0 ? "Enter" : "t");
        }
        ck_assert(terminal_cursor_row_holds(t, "> 06"));
        ck_assert(terminal_hides(t, "not in this book"));
        terminal_press(t, "q");
        ck_assert_int_eq(terminal_end(t), 0);
        terminal_stop(t);
    }
}
END_TEST

/* A draft holds everything a card can hold. */
START_TEST(a_draft_loses_nothing)
{
    char *before, *after;
    struct terminal *t;

    scratch_bench();
    before = command_output("b.coldlap", "show 02");
    t = terminal_start(&bench);
    terminal_press(t, "Home Down Enter End Up Up");
    ck_assert(terminal_shows(t, "Coupon 02"));
    terminal_press(t, "Home Down Down");
    ck_assert(terminal_cursor_row_holds(t, "> Logged by"));
    terminal_press(t, "Enter x Enter");
    ck_assert(terminal_shows(t, "not saved yet"));
    kill(terminal_pid(t), SIGHUP);
    ck_assert_int_eq(terminal_end(t), 128 + SIGHUP);
    terminal_stop(t);

    t = terminal_start(&bench);
    ck_assert(terminal_shows(t, "Coupon 02 of trial corner was being"));
    terminal_press(t, "g");
    ck_assert(terminal_shows(t, "not saved yet"));
    terminal_press(t, "Home Down Down Enter Backspace Enter s");
    ck_assert(terminal_shows(t, "Coupon 02 is saved"));
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
    after = command_output("b.coldlap", "show 02");
    ck_assert_str_eq(after, before);
    free(before);
    free(after);
}
END_TEST

START_TEST(a_lost_line_ends_it_and_leaves_the_book_whole)
{
    struct setup s = bench;
    struct terminal *t;

    s.ignore_hang_up = _i == 1; /* as under nohup: no signal, only a line that gives nothing */
    scratch_bench();
    t = terminal_start(&s);
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "1.2");
    ck_assert(terminal_shows(t, "1.2"));
    terminal_hang_up(t);
    ck_assert_int_eq(terminal_end(t), 128 + SIGHUP);
    terminal_stop(t);
    assert_sound();
}
END_TEST

START_TEST(a_killed_program_leaves_the_book_whole)
{
    struct terminal *t;
    char *list;

    scratch_bench();
    t = terminal_start(&bench);
    terminal_press(t, "n Tab Tab Down");
    terminal_type(t, "1.2");
    terminal_press(t, "Enter s n");
    ck_assert(terminal_shows(t, "Coupon 09, new"));
    kill(terminal_pid(t), SIGKILL);
    ck_assert_int_eq(terminal_end(t), 128 + SIGKILL);
    terminal_stop(t);
    assert_sound();
    list = command_output("b.coldlap", "list");
    ck_assert_ptr_nonnull(strstr(list, "08 "));
    ck_assert_ptr_null(strstr(list, "09 "));
    free(list);
}
END_TEST

START_TEST(stopped_and_continued)
{
    struct setup s = bench;
    struct terminal *t;

    s.shell = "set -m; \"$0\" --book b.coldlap; echo STOPPED; read line; fg; echo ENDED $?";
    scratch_bench();
    t = terminal_start(&s);
    ck_assert(terminal_shows(t, "Trial corner"));
    terminal_type(t, "\032"); /* Ctrl-Z */
    ck_assert(terminal_shows(t, "STOPPED"));
    ck_assert(!terminal_alternate(t));
    terminal_resize(t, 100, 30);
    terminal_type(t, "\n");
    ck_assert(terminal_shows(t, "Book b.coldlap"));
    ck_assert(terminal_alternate(t));
    ck_assert(terminal_matches(t, "rack-100x30"));
    terminal_press(t, "q");
    ck_assert(terminal_shows(t, "ENDED 0"));
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
}
END_TEST

START_TEST(terminals_that_cannot_be_used_are_refused_in_one_line)
{
    static const struct {
        const char *term, *says;
    } cases[] = {{"dumb", "cannot place the cursor"},
                 {"nonesuch", "is not known here"},
                 {"", "TERM does not say"}};
    struct setup s = bench;
    struct terminal *t;
    char *text;

    s.term = cases[_i].term;
    scratch_bench();
    t = terminal_start(&s);
    ck_assert_int_eq(terminal_end(t), 4);
    ck_assert(terminal_shows(t, cases[_i].says));
    text = terminal_text(t);
    ck_assert_ptr_eq(strstr(text, "coldlap: "), text);
    ck_assert_ptr_null(strstr(text + 1, "coldlap: "));
    free(text);
    terminal_stop(t);
}
END_TEST

START_TEST(no_terminal_at_all)
{
    struct setup s = bench;
    struct terminal *t;

    s.shell = "\"$0\" --book none.coldlap </dev/null; echo ENDED $?; ls";
    scratch_enter();
    t = terminal_start(&s);
    ck_assert(terminal_shows(t, "the screens need a terminal"));
    ck_assert(terminal_shows(t, "ENDED 4"));
    ck_assert_int_eq(terminal_end(t), 0);
    ck_assert(terminal_hides(t, "none.coldlap")); /* no book was made on the way */
    terminal_stop(t);
}
END_TEST

/* As much memory as the program may have, where a sanitizer does not need far more. */
#define LITTLE_MEMORY (SANITIZED ? "" : "ulimit -v 1000000; ")

START_TEST(a_boundless_terminal_is_bounded)
{
    static const struct {
        int columns, rows;
        const char *environment;
    } cases[] = {{65535, 65535, ""}, {80, 22, "COLUMNS=65535 LINES=65535 "}};
    char *shell =
        mem_format("%s%sexec \"$0\" --book b.coldlap", LITTLE_MEMORY, cases[_i].environment);
    struct setup s = {
        .columns = cases[_i].columns, .rows = cases[_i].rows, .away = true, .shell = shell};
    struct terminal *t;

    scratch_bench();
    t = terminal_start(&s);
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    ck_assert(terminal_modes_restored(t));
    terminal_stop(t);
    free(shell);
}
END_TEST

START_TEST(a_bad_script_is_refused_with_its_line)
{
    static const struct {
        const char *step, *says;
    } cases[] = {
        {"press Enter", "script line 2: 'press' is not a step"},
        {"key Entr", "script line 2: no key is called 'Entr'"},
        {"resize 100", "script line 2: '100' is not a size such as 100x30"},
        {"resize 0x30", "script line 2: '0x30' is not a size such as 100x30"},
        {"resize 100x30x2", "script line 2: '100x30x2' is not a size such as 100x30"},
        {"resize 1001x30", "script line 2: '1001x30' is larger than 1000x500"},
        {"resize 30x501", "script line 2: '30x501' is larger than 1000x500"},
        {"resize 30000x30000", "script line 2: '30000x30000' is larger than 1000x500"},
        {"save", "script line 2: a file to save the screen into"},
        {"save --force ", "script line 2: a file to save the screen into"},
        {"resize 99999999999999999999x30", "script line 2: '99999999999999999999x30' is larger"},
    };
    struct setup s = bench;
    struct terminal *t;
    FILE *file;

    s.columns = 120;
    scratch_bench();
    file = fopen("script", "w");
    fprintf(file, "key Down\n%s\n", cases[_i].step);
    fclose(file);
    s.keys = "script";
    t = terminal_start(&s);
    ck_assert_int_eq(terminal_end(t), 1);
    ck_assert(terminal_shows(t, cases[_i].says));
    terminal_stop(t);
}
END_TEST

/* Root writes into everything, unless its capabilities are gone. */
static const char *bound(void)
{
    return geteuid() == 0 ? "setpriv --bounding-set=-all " : "";
}

/* Runs the program on a script alone; its exit code. */
static int play(const char *steps)
{
    char *line =
        mem_format("printf '%s' > keys; LC_ALL=C.UTF-8 %s'%s' --book b.coldlap --keys keys "
                   "</dev/null >/dev/null 2>said",
                   steps, bound(), program_path());
    int status = system(line);

    free(line);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static void assert_said(const char *words)
{
    char text[512] = "";
    FILE *in = fopen("said", "r");

    ck_assert(fgets(text, sizeof text, in) != NULL);
    fclose(in);
    ck_assert_msg(strstr(text, words) != NULL, "'%s' does not hold '%s'", text, words);
}

START_TEST(a_script_saves_over_no_book)
{
    static const char *const files[] = {"b.coldlap",     "./b.coldlap", "b.coldlap-wal",
                                        "b.coldlap-shm", "link",        "second",
                                        "other.coldlap", "there"};
    char *before, *after;
    char *step = mem_format("save %s%s\\n", _i % 2 == 0 ? "" : "--force ", files[_i / 2]);

    scratch_bench();
    ck_assert_int_eq(system("ln -s b.coldlap link; ln b.coldlap second; echo kept > there; "
                            "cp b.coldlap other.coldlap"),
                     0);
    before = command_output("b.coldlap", "list");
    if (strcmp(files[_i / 2], "there") == 0 && _i % 2 == 1) {
        ck_assert_int_eq(play(step), 0);
        ck_assert_int_eq(system("grep -q 'Trial corner' there"), 0);
    } else {
        ck_assert_int_eq(play(step), 1);
        assert_said("give another name");
        ck_assert_int_eq(system("grep -q kept there"), 0);
    }
    after = command_output("other.coldlap", "list");
    ck_assert_str_eq(after, before);
    free(after);
    after = command_output("b.coldlap", "list");
    ck_assert_str_eq(after, before);
    assert_sound();
    free(step);
    free(before);
    free(after);
}
END_TEST

START_TEST(a_book_that_can_only_be_read_says_so_at_once)
{
    static const char says[] = "b.coldlap: the file can only be read; nothing can be stored in it";
    char *shell = mem_format("exec %s\"$0\" --book b.coldlap", bound());
    struct setup s = {.columns = 100, .rows = 30, .shell = shell};
    struct terminal *t;

    scratch_bench();
    ck_assert_int_eq(chmod("b.coldlap", 0444), 0);
    t = terminal_start(&s);
    ck_assert(terminal_shows(t, says));
    terminal_press(t, "n x u"); /* neither a card nor a question opens */
    ck_assert(terminal_shows(t, "Numbers are shown in inch units."));
    ck_assert(terminal_shows(t, "Trial corner"));
    terminal_press(t, "t +");
    ck_assert(terminal_hides(t, "make a new trial"));
    ck_assert(terminal_shows(t, "Trial corner"));
    ck_assert(terminal_shows(t, says));
    terminal_press(t, "Enter");
    ck_assert(terminal_shows(t, "the book can only be read"));
    for (const char *key = "59pf d"; *key != '\0'; key++) {
        terminal_press(t, "Down"); /* takes what was said away */
        ck_assert(terminal_hides(t, says));
        terminal_type(t, *key == ' ' ? "\r" : (char[]){*key, '\0'});
        ck_assert(terminal_shows(t, says));
    }
    terminal_press(t, "Esc");
    ck_assert(terminal_shows(t, "Trial corner"));
    terminal_press(t, "q");
    ck_assert_int_eq(terminal_end(t), 0);
    terminal_stop(t);
    free(shell);
}
END_TEST

START_TEST(the_largest_screen_can_be_asked_for)
{
    scratch_bench();
    ck_assert_int_eq(play("resize 1000x500\\nsave s\\nkey q\\n"), 0);
    ck_assert_int_eq(system("test $(wc -l < s) -eq 500"), 0);
}
END_TEST

START_TEST(a_script_that_could_not_save_ends_with_4)
{
    scratch_bench();
    ck_assert_int_eq(play("key n Tab Tab Down\\ntext 1.2\\nkey Enter s q\\n"), 0);
    ck_assert_int_eq(chmod("b.coldlap", 0444), 0);
    ck_assert_int_eq(play("key n\\n"), 4);
    assert_said("coldlap: b.coldlap: the file can only be read; nothing can be stored in it");
    ck_assert_int_eq(play("key Enter Esc q\\n"), 0); /* reading is no failure */
    ck_assert_int_eq(play("save /dev/full\\nkey q\\n"), 4);
    assert_said("/dev/full");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/ending");
    TCase *t = tcase_create("ending");

    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, scratch_begin_with_bench, scratch_end);
    tcase_add_loop_test(t, signals_give_the_terminal_back, 0, sizeof ends / sizeof *ends);
    tcase_add_loop_test(t, so_do_the_numbered_ones, 0, 2);
    tcase_add_test(t, ignored_signals_end_nothing);
    tcase_add_loop_test(t, what_was_typed_is_kept_and_offered_again, 0, 2);
    tcase_add_test(t, a_draft_without_its_trial_says_so);
    tcase_add_test(t, a_draft_loses_nothing);
    tcase_add_loop_test(t, a_lost_line_ends_it_and_leaves_the_book_whole, 0, 2);
    tcase_add_test(t, a_killed_program_leaves_the_book_whole);
    tcase_add_test(t, stopped_and_continued);
    tcase_add_loop_test(t, terminals_that_cannot_be_used_are_refused_in_one_line, 0, 3);
    tcase_add_test(t, no_terminal_at_all);
    tcase_add_loop_test(t, a_boundless_terminal_is_bounded, 0, 2);
    tcase_add_loop_test(t, a_bad_script_is_refused_with_its_line, 0, 11);
    tcase_add_test(t, a_book_that_can_only_be_read_says_so_at_once);
    tcase_add_test(t, the_largest_screen_can_be_asked_for);
    tcase_add_test(t, a_script_that_could_not_save_ends_with_4);
    tcase_add_loop_test(t, a_script_saves_over_no_book, 0, 16);
    suite_add_tcase(s, t);
    return s;
}
