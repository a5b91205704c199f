#include "tui/term/term.h"

#include <curses.h>
#include <errno.h>
#include <langinfo.h>
#include <locale.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/signalfd.h>
#include <termios.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"
#include "tui/term/paint.h"
#include "tui/term/signals.h"
#include "tui/term/term_type.h"

enum {
    ESCAPE_MS = 50,   /* how long the rest of a sequence may take after Esc */
    PASTE_MS = 1000,  /* a paste that stops arriving has ended */
    EMPTY_READS = 50, /* a terminal that is ready but gives nothing is gone */
};

static int refuse_no_terminal(struct error *e)
{
    return error_set(e, ERROR_SYSTEM,
                     "the screens need a terminal; give a command instead, 'coldlap --help' lists "
                     "them");
}

/* curses allocates memory for the size that the environment, else the terminal, claims. */
static void bound_size(const char *name, int claimed, int max)
{
    const char *said = getenv(name);
    char text[16];

    if ((said == NULL ? claimed : strtol(said, NULL, 10)) <= max)
        return;
    snprintf(text, sizeof text, "%d", max);
    setenv(name, text, true);
}

static int open_screen(struct term *t, bool scripted, struct error *e)
{
    bool terminal = isatty(STDIN_FILENO) && isatty(STDOUT_FILENO);
    const char *type = getenv("TERM");
    struct winsize size = {0};

    if (!terminal && !scripted)
        return refuse_no_terminal(e);
    if (!terminal) {
        t->nowhere = fopen("/dev/null", "r+");
        if (t->nowhere == NULL)
            return error_set(e, ERROR_SYSTEM, "/dev/null: %s", strerror(errno));
        type = type == NULL || strcmp(type, "dumb") == 0 ? "vt100" : type;
    }
    if (term_type_check(type, e) != 0)
        return -1;
    if (terminal)
        ioctl(STDOUT_FILENO, TIOCGWINSZ, &size);
    bound_size("LINES", size.ws_row, TERM_MAX_ROWS);
    bound_size("COLUMNS", size.ws_col, TERM_MAX_COLUMNS);
    t->screen = newterm(type, terminal ? stdout : t->nowhere, terminal ? stdin : t->nowhere);
    if (t->screen == NULL)
        return error_set(e, ERROR_SYSTEM, "the terminal cannot be started as '%s' (TERM)", type);
    return 0;
}

/* Ctrl-S belongs to the program, not to flow control. */
static void release_flow_keys(void)
{
    struct termios modes;

    if (tcgetattr(STDIN_FILENO, &modes) != 0)
        return;
    modes.c_iflag &= ~(tcflag_t)(IXON | IXOFF);
    tcsetattr(STDIN_FILENO, TCSADRAIN, &modes);
    def_prog_mode();
}

static void paste_mode(struct term *t, bool on)
{
    if (t->nowhere != NULL || t->pasting == on)
        return;
    t->pasting = on;
    fputs(on ? "\033[?2004h" : TERM_PASTE_OFF, stdout);
    fflush(stdout);
}

static void set_modes(struct term *t)
{
    const char *no_colour = getenv("NO_COLOR");

    cbreak();
    noecho();
    nonl();
    keypad(stdscr, TRUE);
    nodelay(stdscr, TRUE);
    intrflush(stdscr, FALSE);
    if (getenv("ESCDELAY") == NULL)
        set_escdelay(ESCAPE_MS);
    t->colour = has_colors() && (no_colour == NULL || *no_colour == '\0');
    if (t->colour) {
        start_color();
        use_default_colors();
        paint_define_colours();
    }
    key_define_sequences();
    if (t->nowhere == NULL)
        release_flow_keys();
    signals_terminal_taken(t->nowhere == NULL);
    paste_mode(t, true);
}

int term_start(struct term *t, bool scripted, struct error *e)
{
    memset(t, 0, sizeof *t);
    t->signals = -1;
    setlocale(LC_CTYPE, "");
    t->utf8 = strcmp(nl_langinfo(CODESET), "UTF-8") == 0;
    sigprocmask(SIG_BLOCK, NULL, &t->before);
    t->signals = signals_catch(&t->before, e);
    if (t->signals < 0 || open_screen(t, scripted, e) != 0) {
        term_stop(t);
        return -1;
    }
    set_modes(t);
    return 0;
}

static void close_screen(struct term *t)
{
    if (!isendwin()) {
        paste_mode(t, false);
        endwin();
    }
    signals_terminal_taken(false);
    delscreen(t->screen);
    t->screen = NULL;
}

void term_stop(struct term *t)
{
    struct signalfd_siginfo left;

    if (t->screen != NULL)
        close_screen(t);
    if (t->nowhere != NULL)
        fclose(t->nowhere);
    t->nowhere = NULL;
    if (t->signals >= 0) {
        while (read(t->signals, &left, sizeof left) == (ssize_t)sizeof left)
            ;
        close(t->signals);
    }
    t->signals = -1;
    sigprocmask(SIG_SETMASK, &t->before, NULL);
    free(t->paste);
    t->paste = NULL;
}

void term_resize(int columns, int rows)
{
    if (columns < 1 || rows < 1)
        return;
    /* not resizeterm(), which would put a key into the queue */
    resize_term(rows < TERM_MAX_ROWS ? rows : TERM_MAX_ROWS,
                columns < TERM_MAX_COLUMNS ? columns : TERM_MAX_COLUMNS);
    clearok(curscr, TRUE);
}

int term_rows(void)
{
    return LINES;
}

int term_columns(void)
{
    return COLS;
}

static void adopt_terminal_size(const struct term *t)
{
    struct winsize size;

    if (t->nowhere == NULL && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0)
        term_resize(size.ws_col, size.ws_row);
}

/* Gives the terminal back, stops like any program on Ctrl-Z, and takes it again. */
static void suspend(struct term *t)
{
    sigset_t set;

    paste_mode(t, false);
    endwin();
    signals_terminal_taken(false);
    signal(SIGTSTP, SIG_DFL); /* curses has put a handler of its own there */
    sigemptyset(&set);
    sigaddset(&set, SIGTSTP);
    raise(SIGTSTP);
    sigprocmask(SIG_UNBLOCK, &set, NULL);
    /* stopped here until continued */
    sigprocmask(SIG_BLOCK, &set, NULL);
    reset_prog_mode();
    signals_terminal_taken(t->nowhere == NULL);
    paste_mode(t, true);
    adopt_terminal_size(t);
    clearok(curscr, TRUE);
}

static void read_signals(struct term *t)
{
    struct signalfd_siginfo info;

    while (read(t->signals, &info, sizeof info) == (ssize_t)sizeof info) {
        if (info.ssi_signo == SIGWINCH)
            adopt_terminal_size(t);
        else if (info.ssi_signo == SIGTSTP)
            suspend(t);
        else
            t->ended_by = (int)info.ssi_signo;
    }
}

/* Reads up to the end of the paste; line ends become spaces. */
static struct key read_paste(struct term *t)
{
    struct text pasted = {0};
    char bytes[16];
    wint_t code;
    int kind;

    timeout(PASTE_MS);
    while ((kind = get_wch(&code)) != ERR && !(kind == KEY_CODE_YES && key_is_paste(code, true))) {
        if (kind == KEY_CODE_YES)
            continue;
        snprintf(bytes, sizeof bytes, "%lc", code < 32 || code == 127 ? L' ' : code);
        text_add(&pasted, bytes);
    }
    nodelay(stdscr, TRUE);
    free(t->paste);
    t->paste = text_steal(&pasted);
    return (struct key){.code = PRESS_PASTE, .text = t->paste};
}

/* True if an Esc began an unknown sequence, which is then dropped whole. */
static bool swallow_sequence(void)
{
    wint_t code;

    if (get_wch(&code) != OK)
        return false;
    if (code != '[' && code != 'O') {
        unget_wch((wchar_t)code);
        return false;
    }
    while (get_wch(&code) == OK && !(code >= 0x40 && code <= 0x7e))
        ;
    return true;
}

struct key term_read(struct term *t)
{
    struct key key = {.code = PRESS_NONE};
    wint_t code;
    int kind;

    if (t->nowhere != NULL)
        return key;
    while (key.code == PRESS_NONE && (kind = get_wch(&code)) != ERR) {
        t->empty_reads = 0;
        key = kind == KEY_CODE_YES && key_is_paste(code, false)
                  ? read_paste(t)
                  : key_from_curses(code, kind == KEY_CODE_YES);
        if (key.code == PRESS_ESC && swallow_sequence())
            key.code = PRESS_NONE;
    }
    return key;
}

struct key term_wait(struct term *t, int ms)
{
    struct pollfd from[] = {{.fd = t->signals, .events = POLLIN},
                            {.fd = STDIN_FILENO, .events = POLLIN}};
    int ready = poll(from, t->nowhere == NULL ? 2 : 1, ms);

    if (ready > 0 && from[0].revents != 0)
        read_signals(t);
    if (from[1].revents & (POLLHUP | POLLERR | POLLNVAL))
        t->ended_by = t->ended_by ? t->ended_by : SIGHUP;
    else if (from[1].revents & POLLIN && ++t->empty_reads > EMPTY_READS)
        t->ended_by = SIGHUP;
    if (t->ended_by != 0)
        return (struct key){.code = PRESS_GONE};
    return (struct key){.code = ready == 0 ? PRESS_TICK : PRESS_NONE};
}

struct key term_listen(struct term *t)
{
    struct pollfd from = {.fd = t->signals, .events = POLLIN};

    if (poll(&from, 1, 0) > 0)
        read_signals(t);
    return (struct key){.code = t->ended_by != 0 ? PRESS_GONE : PRESS_TICK};
}
