/* What is only shown on a terminal: the width of a page, and how far a calculation has come. */
#include "run.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
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
    ck_assert_str_eq(written(), "\rranking:  25 %");
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
    ck_assert_str_eq(written(), "\rranking: 100 %");
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
    tcase_add_test(t, progress_is_shown_on_a_terminal_only);
    suite_add_tcase(s, t);
    return s;
}
