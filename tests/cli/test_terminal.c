/* What is only shown on a terminal: the width of a page, and how far a calculation has come. */
#include "run.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include "base/clock.h"
#include "cli/print.h"
#include "cli/progress.h"

static int near_end, far_end; /* of a pseudo-terminal: the program writes into the far one */

static void open_terminal(void)
{
    struct termios modes;

    near_end = posix_openpt(O_RDWR | O_NOCTTY);
    ck_assert(near_end >= 0 && grantpt(near_end) == 0 && unlockpt(near_end) == 0);
    far_end = open(ptsname(near_end), O_RDWR | O_NOCTTY);
    ck_assert(far_end >= 0 && tcgetattr(far_end, &modes) == 0);
    cfmakeraw(&modes);
    ck_assert_int_eq(tcsetattr(far_end, TCSANOW, &modes), 0);
    ck_assert_int_eq(fcntl(near_end, F_SETFL, O_NONBLOCK), 0);
}

static void close_terminal(void)
{
    close(near_end);
    close(far_end);
}

/* All that was written since; it is there as soon as write() has returned. */
static const char *written(void)
{
    static char text[4096];
    ssize_t got = read(near_end, text, sizeof text - 1);

    text[got < 0 ? 0 : got] = '\0';
    return text;
}

/* Cells of the first line of a long paragraph. */
static size_t page_width(int terminal, const char *columns)
{
    struct winsize size = {.ws_row = 24, .ws_col = (unsigned short)terminal};
    FILE *out = fdopen(dup(far_end), "w");
    struct page p = {0};
    size_t width;

    if (columns != NULL)
        setenv("COLUMNS", columns, 1);
    else
        unsetenv("COLUMNS");
    ck_assert_int_eq(ioctl(far_end, TIOCSWINSZ, &size), 0);
    page_add(&p, BLOCK_TEXT, "%01500d", 0);
    print_page(out, &p);
    fclose(out);
    page_free(&p);
    width = strcspn(written(), "\n");
    return width;
}

static const struct {
    int terminal;
    const char *columns;
    size_t width;
} widths[] = {
    {100, NULL, 100},  {40, NULL, 40},  {100, "50", 50},    {100, "wide", 100}, {29, NULL, 80},
    {30, NULL, 30},    {0, NULL, 80},   {100, "29", 80},    {100, "30", 30},    {100, "1000", 1000},
    {100, "1001", 80}, {100, "-5", 80}, {1000, NULL, 1000}, {1001, NULL, 80},
};

START_TEST(a_page_is_as_wide_as_the_terminal_within_reason)
{
    ck_assert_uint_eq(page_width(widths[_i].terminal, widths[_i].columns), widths[_i].width);
}
END_TEST

/* Progress that began so long ago and was last shown so long ago; a time to come, below zero, is
 * sure to be too short however busy the machine is. */
static struct progress progress_of(int64_t begun_ms, int64_t shown_ms)
{
    struct progress p;
    int64_t now = clock_monotonic_ms();

    ck_assert_int_ge(dup2(far_end, STDERR_FILENO), 0);
    p = progress_begin("ranking");
    ck_assert(p.terminal && !p.shown && p.begun_ms >= now);
    p.begun_ms = now - begun_ms;
    p.shown_ms = shown_ms == 0 ? 0 : now - shown_ms;
    return p;
}

START_TEST(progress_is_shown_after_a_second)
{
    struct progress p = progress_of(-60000, 0);

    ck_assert(progress_show(&p, 0.25));
    ck_assert_str_eq(written(), "");
    progress_end(&p);
    ck_assert_str_eq(written(), "");
    p = progress_of(1000, 0);
    ck_assert(progress_show(&p, 0.25));
    ck_assert_int_eq(strncmp(written(), "\r\033[Kranking:  25 %, ", 20), 0);
    progress_end(&p);
    ck_assert_str_eq(written(), "\r\033[K");
    progress_end(&p);
    ck_assert_str_eq(written(), "");
}
END_TEST

START_TEST(progress_is_shown_four_times_a_second)
{
    struct progress p = progress_of(60000, -60000);

    ck_assert(progress_show(&p, 1));
    ck_assert_str_eq(written(), "");
    p = progress_of(60000, 250);
    ck_assert(progress_show(&p, 1));
    ck_assert_str_eq(written(), "\r\033[Kranking: 100 %");
}
END_TEST

static const struct {
    double done;
    int64_t since_ms;
    const char *line;
} lines[] = {
    {0, 5000, "importing:   0 %"},
    {0.25, 4000, "importing:  25 %, 12 s left"},
    {0.999, 1000, "importing:  99 %, 1 s left"},
    {0.5, 99000, "importing:  50 %, 99 s left"},
    {0.5, 100000, "importing:  50 %, 2 min left"},
    {0.01, 60000, "importing:   1 %, 99 min left"},
    {1, 60000, "importing: 100 %"},
};

START_TEST(what_is_left_goes_by_what_was_done)
{
    char line[128];

    progress_line(line, sizeof line, "importing", lines[_i].done, lines[_i].since_ms);
    ck_assert_str_eq(line, lines[_i].line);
}
END_TEST

/* How a program ends that gets the signal while, or after, its progress is shown. */
static int end_by(int number, bool over)
{
    pid_t child = fork();
    int status;

    if (child == 0) {
        struct progress p = progress_of(60000, 60000);

        signal(number, SIG_DFL);
        progress_show(&p, 0.5);
        if (over)
            progress_end(&p);
        raise(number);
        _exit(0);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status));
    return WTERMSIG(status);
}

START_TEST(a_signal_erases_the_line_and_ends_the_program)
{
    static const int numbers[] = {SIGINT, SIGTERM, SIGHUP};
    static const char erased[] = "s left\r\033[K";

    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        for (int over = 0; over < 2; over++) {
            const char *text;

            ck_assert_int_eq(end_by(numbers[i], over), numbers[i]);
            text = written();
            ck_assert_str_eq(text + strlen(text) - strlen(erased), erased);
        }
    }
}
END_TEST

/* Under nohup the program goes on. */
START_TEST(a_signal_that_is_ignored_stays_so)
{
    struct progress p = progress_of(60000, 60000);

    signal(SIGHUP, SIG_IGN);
    progress_show(&p, 0.5);
    raise(SIGHUP);
    progress_end(&p);
    raise(SIGHUP);
    signal(SIGHUP, SIG_DFL);
    written();
}
END_TEST

START_TEST(progress_is_shown_on_a_terminal_only)
{
    FILE *file = tmpfile();
    struct progress p;

    ck_assert_int_ge(dup2(fileno(file), STDERR_FILENO), 0);
    p = progress_begin("ranking");
    p.begun_ms -= 60000;
    ck_assert(progress_show(&p, 0.5));
    progress_end(&p);
    ck_assert_int_eq(lseek(fileno(file), 0, SEEK_END), 0);
    fclose(file);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("cli/terminal");
    TCase *t = tcase_create("terminal");

    tcase_add_checked_fixture(t, open_terminal, close_terminal);
    tcase_add_loop_test(t, a_page_is_as_wide_as_the_terminal_within_reason, 0,
                        sizeof widths / sizeof *widths);
    tcase_add_test(t, progress_is_shown_after_a_second);
    tcase_add_test(t, progress_is_shown_four_times_a_second);
    tcase_add_loop_test(t, what_is_left_goes_by_what_was_done, 0, sizeof lines / sizeof *lines);
    tcase_add_test(t, a_signal_erases_the_line_and_ends_the_program);
    tcase_add_test(t, a_signal_that_is_ignored_stays_so);
    tcase_add_test(t, progress_is_shown_on_a_terminal_only);
    suite_add_tcase(s, t);
    return s;
}
