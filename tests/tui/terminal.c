#include "terminal.h"

#include <check.h>
#include <errno.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <utmp.h>
#include <vterm.h>
#include <wchar.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "keyboard.h"
#include "scratch.h"

enum { DEADLINE_MS = 15000, STILL_MS = 3000, QUIET_MS = 700 };

struct terminal {
    pid_t pid;
    int line; /* our end of it */
    VTerm *vt;
    VTermScreen *screen;
    VTermPos cursor;
    bool visible, alternate;
    bool away; /* not looking */
    struct termios before;
    int ended;  /* exit code, -1 while it runs */
    int signal; /* that killed it, 0 none */
};

static int on_move(VTermPos now, VTermPos before, int visible, void *user)
{
    struct terminal *t = user;

    (void)before;
    (void)visible;
    t->cursor = now;
    return 1;
}

static int on_property(VTermProp property, VTermValue *value, void *user)
{
    struct terminal *t = user;

    if (property == VTERM_PROP_CURSORVISIBLE)
        t->visible = value->boolean;
    if (property == VTERM_PROP_ALTSCREEN)
        t->alternate = value->boolean;
    return 1;
}

static const VTermScreenCallbacks callbacks = {.movecursor = on_move, .settermprop = on_property};

static void put_environment(const struct setup *s)
{
    setenv("TERM", s->term == NULL ? "xterm-256color" : s->term, 1);
    setenv("LC_ALL", s->locale == NULL ? "C.UTF-8" : s->locale, 1);
    setenv("COLDLAP_NOW", "2026-03-07T14:05:00+01:00", 1);
    setenv("TZ", "UTC", 1);
    unsetenv("LINES");
    unsetenv("COLUMNS");
    unsetenv("ESCDELAY");
    if (s->no_colour == NULL)
        unsetenv("NO_COLOR");
    else
        setenv("NO_COLOR", s->no_colour, 1);
}

static void run_program(const struct setup *s)
{
    const char *argv[6] = {program_path()};
    int n = 1;

    put_environment(s);
    /* whatever the test itself was started under, such as nohup */
    for (int number = 1; number < NSIG; number++)
        signal(number, SIG_DFL);
    if (s->ignore_hang_up)
        signal(SIGHUP, SIG_IGN);
    if (s->shell != NULL)
        execl("/bin/sh", "sh", "-c", s->shell, program_path(), (char *)NULL);
    if (s->book != NULL) {
        argv[n++] = "--book";
        argv[n++] = s->book;
    }
    if (s->keys != NULL) {
        argv[n++] = "--keys";
        argv[n++] = s->keys;
    }
    argv[n] = NULL;
    execv(program_path(), (char *const *)(uintptr_t)argv);
    _exit(127);
}

static void open_eyes(struct terminal *t, int columns, int rows)
{
    t->vt = vterm_new(rows, columns);
    vterm_set_utf8(t->vt, 1);
    t->screen = vterm_obtain_screen(t->vt);
    vterm_screen_set_callbacks(t->screen, &callbacks, t);
    vterm_screen_enable_altscreen(t->screen, 1);
    vterm_screen_reset(t->screen, 1);
}

/* Takes what has arrived within `ms`. False when nothing did. */
static bool pump(struct terminal *t, int ms)
{
    struct pollfd from = {.fd = t->line, .events = POLLIN};
    char bytes[8192];
    ssize_t got;

    if (t->line < 0 || poll(&from, 1, ms) <= 0)
        return false;
    got = read(t->line, bytes, sizeof bytes);
    if (got <= 0) {
        poll(NULL, 0, ms < 10 ? ms : 10); /* the other end is closed; do not spin */
        return false;
    }
    if (t->away)
        return true;
    vterm_input_write(t->vt, bytes, (size_t)got);
    vterm_screen_flush_damage(t->screen);
    return true;
}

static bool has_ended(struct terminal *t)
{
    int status;

    if (t->ended < 0 && waitpid(t->pid, &status, WNOHANG) == t->pid) {
        t->signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
        t->ended = t->signal == 0 ? WEXITSTATUS(status) : 128 + t->signal;
    }
    return t->ended >= 0;
}

/* Until the program has taken the line over, which would else echo what is typed. */
static void await_start(struct terminal *t)
{
    int64_t deadline = clock_monotonic_ms() + DEADLINE_MS;
    struct termios now;

    while (!has_ended(t) && clock_monotonic_ms() < deadline) {
        if (tcgetattr(t->line, &now) == 0 && (now.c_lflag & ECHO) == 0)
            break;
        pump(t, 5);
    }
}

struct terminal *terminal_start(const struct setup *s)
{
    struct winsize size = {.ws_col = (unsigned short)s->columns, .ws_row = (unsigned short)s->rows};
    struct terminal *t = mem_zero(1, sizeof *t);
    int slave;

    ck_assert_int_eq(openpty(&t->line, &slave, NULL, NULL, &size), 0);
    ck_assert_int_eq(tcgetattr(slave, &t->before), 0);
    t->pid = fork();
    ck_assert_int_ge(t->pid, 0);
    if (t->pid == 0) {
        close(t->line);
        login_tty(slave);
        run_program(s);
    }
    close(slave);
    t->ended = -1;
    t->visible = true;
    t->away = s->away;
    open_eyes(t, t->away ? 80 : s->columns, t->away ? 24 : s->rows);
    await_start(t);
    return t;
}

int terminal_end(struct terminal *t)
{
    int64_t deadline = clock_monotonic_ms() + DEADLINE_MS;

    while (!has_ended(t) && clock_monotonic_ms() < deadline)
        if (!pump(t, 20) && t->line < 0)
            poll(NULL, 0, 5);
    while (pump(t, 0))
        ;
    return t->ended;
}

void terminal_stop(struct terminal *t)
{
    if (!has_ended(t)) {
        kill(t->pid, SIGKILL);
        waitpid(t->pid, NULL, 0);
    }
    if (t->line >= 0)
        close(t->line);
    vterm_free(t->vt);
    free(t);
}

int terminal_signal(const struct terminal *t)
{
    return t->signal;
}

pid_t terminal_pid(const struct terminal *t)
{
    return t->pid;
}

void terminal_hang_up(struct terminal *t)
{
    close(t->line);
    t->line = -1;
}

void terminal_type(struct terminal *t, const char *text)
{
    size_t left = strlen(text);

    while (left > 0) {
        ssize_t put = write(t->line, text, left);

        ck_assert_msg(put > 0 || errno == EINTR, "the line takes no more: %s", strerror(errno));
        if (put > 0) {
            text += put;
            left -= (size_t)put;
        }
        pump(t, 0);
    }
}

void terminal_press(struct terminal *t, const char *names)
{
    char *all = mem_copy(names), *more = NULL;

    for (char *name = strtok_r(all, " ", &more); name != NULL; name = strtok_r(NULL, " ", &more)) {
        terminal_type(t, key_bytes(name));
        if (strcmp(name, "Esc") == 0) /* else what follows would look like one long sequence */
            for (int64_t until = clock_monotonic_ms() + 120; clock_monotonic_ms() < until;)
                pump(t, 20);
    }
    free(all);
}

void terminal_resize(struct terminal *t, int columns, int rows)
{
    struct winsize size = {.ws_col = (unsigned short)columns, .ws_row = (unsigned short)rows};

    if (!t->away)
        vterm_set_size(t->vt, rows, columns);
    ioctl(t->line, TIOCSWINSZ, &size);
}

void terminal_look_away(struct terminal *t)
{
    t->away = true;
}

void terminal_look_again(struct terminal *t, int columns, int rows)
{
    terminal_resize(t, columns + 1, rows);
    while (pump(t, QUIET_MS))
        ;
    vterm_free(t->vt);
    open_eyes(t, columns, rows);
    t->away = false;
    terminal_resize(t, columns, rows);
}

static void add_row(struct text *out, const struct terminal *t, int row, int columns)
{
    size_t start = out->length, end;
    VTermScreenCell cell;
    char bytes[8];

    for (int column = 0; column<columns; column += cell.width> 0 ? cell.width : 1) {
        vterm_screen_get_cell(t->screen, (VTermPos){row, column}, &cell);
        for (int i = 0; i < VTERM_MAX_CHARS_PER_CELL && cell.chars[i] != 0; i++) {
            snprintf(bytes, sizeof bytes, "%lc", (wint_t)cell.chars[i]);
            text_add(out, bytes);
        }
        if (cell.chars[0] == 0)
            text_add(out, " ");
    }
    for (end = out->length; end > start && out->s[end - 1] == ' '; end--)
        ;
    out->length = end;
    text_add(out, "\n");
}

char *terminal_text(struct terminal *t)
{
    struct text out = {0};
    int rows, columns;

    vterm_get_size(t->vt, &rows, &columns);
    for (int row = 0; row < rows; row++)
        add_row(&out, t, row, columns);
    text_addf(&out, "cursor %d %d\n", t->cursor.row, t->cursor.col);
    return text_steal(&out);
}

/* Pumps until the test is met or the deadline has come. */
static bool wait_at_most(struct terminal *t, int ms,
                         bool (*met)(struct terminal *t, const void *what), const void *what)
{
    int64_t deadline = clock_monotonic_ms() + ms;

    while (!met(t, what)) {
        if (clock_monotonic_ms() > deadline || (has_ended(t) && !pump(t, 0)))
            return met(t, what);
        pump(t, 50);
    }
    return true;
}

static bool wait_for(struct terminal *t, bool (*met)(struct terminal *t, const void *what),
                     const void *what)
{
    return wait_at_most(t, DEADLINE_MS, met, what);
}

static bool holds(struct terminal *t, const void *what)
{
    char *text = terminal_text(t);
    bool found = strstr(text, what) != NULL;

    free(text);
    return found;
}

static bool lacks(struct terminal *t, const void *what)
{
    return !holds(t, what);
}

static bool cursor_row_holds(struct terminal *t, const void *what)
{
    struct text row = {0};
    int rows, columns;
    bool found;

    vterm_get_size(t->vt, &rows, &columns);
    add_row(&row, t, t->cursor.row, columns);
    found = strstr(text_str(&row), what) != NULL;
    text_free(&row);
    return found;
}

static bool differs_from(struct terminal *t, const void *what)
{
    char *text = terminal_text(t);
    bool differs = strcmp(text, what) != 0;

    free(text);
    return differs;
}

static bool explain(struct terminal *t, bool good, const char *wanted)
{
    char *text;

    if (good)
        return true;
    text = terminal_text(t);
    fprintf(stderr, "wanted: %s\nthe screen:\n%s\n", wanted, text);
    free(text);
    return false;
}

bool terminal_shows(struct terminal *t, const char *text)
{
    return explain(t, wait_for(t, holds, text), text);
}

bool terminal_hides(struct terminal *t, const char *text)
{
    return explain(t, wait_for(t, lacks, text), text);
}

bool terminal_cursor_row_holds(struct terminal *t, const char *text)
{
    return explain(t, wait_for(t, cursor_row_holds, text), text);
}

bool terminal_walks_to(struct terminal *t, const char *key, const char *text)
{
    bool there = cursor_row_holds(t, text), moved = true;

    for (int i = 0; i < 60 && moved && !there; i++) {
        char *before = terminal_text(t);

        terminal_press(t, key);
        moved = wait_at_most(t, STILL_MS, differs_from, before);
        while (pump(t, 30)) /* the rest of the same drawing */
            ;
        free(before);
        there = cursor_row_holds(t, text);
    }
    return explain(t, there, text);
}

struct looks terminal_looks(const struct terminal *t)
{
    struct looks looks = {0, 0, 0};
    VTermScreenCell cell;
    int rows, columns;

    vterm_get_size(t->vt, &rows, &columns);
    for (int row = 0; row < rows; row++)
        for (int column = 0; column < columns; column++) {
            vterm_screen_get_cell(t->screen, (VTermPos){row, column}, &cell);
            looks.coloured += !VTERM_COLOR_IS_DEFAULT_FG(&cell.fg);
            looks.reverse += cell.attrs.reverse;
            looks.bold += cell.attrs.bold;
        }
    return looks;
}

bool terminal_reverse_at_cursor(const struct terminal *t)
{
    VTermScreenCell cell;

    vterm_screen_get_cell(t->screen, t->cursor, &cell);
    return cell.attrs.reverse;
}

bool terminal_alternate(const struct terminal *t)
{
    return t->alternate;
}

bool terminal_cursor_visible(const struct terminal *t)
{
    return t->visible;
}

/* libvterm keeps the mode to itself, but marks the start of a paste only while it is on. */
bool terminal_brackets_paste(const struct terminal *t)
{
    char bytes[32];

    while (vterm_output_read(t->vt, bytes, sizeof bytes) > 0)
        ;
    vterm_keyboard_start_paste(t->vt);
    return vterm_output_read(t->vt, bytes, sizeof bytes) > 0;
}

bool terminal_modes_restored(const struct terminal *t)
{
    struct termios now;

    return tcgetattr(t->line, &now) == 0 && now.c_lflag == t->before.c_lflag &&
           now.c_iflag == t->before.c_iflag && now.c_oflag == t->before.c_oflag;
}

static char *read_file(const char *path)
{
    FILE *in = fopen(path, "r");
    struct text all = {0};
    char bytes[4096];
    size_t got;

    if (in == NULL)
        return mem_copy("");
    while ((got = fread(bytes, 1, sizeof bytes, in)) > 0)
        text_add_part(&all, bytes, got);
    fclose(in);
    return text_steal(&all);
}

static char *golden_path(const char *name)
{
    const char *folder = getenv("COLDLAP_GOLDEN");

    ck_assert_msg(folder != NULL, "COLDLAP_GOLDEN must name the folder of golden screens");
    return mem_format("%s/%s.txt", folder, name);
}

static bool same_as(struct terminal *t, const void *what)
{
    return !differs_from(t, what);
}

/* On purpose only: a person looks at the change before it is kept. */
static bool write_golden(struct terminal *t, const char *path)
{
    FILE *out = fopen(path, "w");
    char *text;

    ck_assert_msg(out != NULL, "%s: %s", path, strerror(errno));
    while (pump(t, QUIET_MS))
        ;
    text = terminal_text(t);
    fputs(text, out);
    free(text);
    return fclose(out) == 0;
}

bool terminal_matches(struct terminal *t, const char *name)
{
    char *path = golden_path(name), *wanted;
    bool good;

    if (getenv("COLDLAP_WRITE_GOLDEN") != NULL) {
        good = write_golden(t, path);
    } else {
        wanted = read_file(path);
        good = explain(t, wait_for(t, same_as, wanted), wanted);
        free(wanted);
    }
    free(path);
    return good;
}
