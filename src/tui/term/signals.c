#include "tui/term/signals.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <termios.h>
#include <unistd.h>

#include "base/text.h"
#include "tui/term/term_type.h"

enum { GIVE_BACK_SIZE = 256, WORDS_SIZE = 4200 };

/* Signals raised by a fault of the program itself, which cannot go on to the next key. */
static const int crashing[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGTRAP, SIGSYS};
/* Signals that do not end a program by default; they are left as they are. */
static const int harmless[] = {SIGCHLD, SIGCONT, SIGURG, SIGTTIN, SIGTTOU};

enum { CRASHING = sizeof crashing / sizeof *crashing };

/*
 * State of the crash handler, static because nothing can be passed to it. It must not call
 * curses, as the crash may have happened there: the bytes that restore the terminal are prepared
 * beforehand.
 */
static struct {
    struct sigaction before[CRASHING];
    struct termios modes;
    bool modes_known;
    volatile sig_atomic_t taken;
    char bytes[GIVE_BACK_SIZE];
    size_t length;
    char words[WORDS_SIZE]; /* a line for stderr; "" none */
} crash;

static bool among(const int *numbers, size_t count, int number)
{
    for (size_t i = 0; i < count; i++)
        if (numbers[i] == number)
            return true;
    return false;
}

static void give_terminal_back(void)
{
    ssize_t written;

    if (!crash.taken)
        return;
    crash.taken = false;
    written = write(STDOUT_FILENO, crash.bytes, crash.length);
    (void)written; /* if this fails, nothing more can be done */
    if (crash.modes_known)
        tcsetattr(STDIN_FILENO, TCSANOW, &crash.modes);
}

static void say_where(void)
{
    ssize_t written = write(STDERR_FILENO, crash.words, strlen(crash.words));

    (void)written;
    crash.words[0] = '\0';
}

/* Calls the earlier handler itself: a sanitizer's reports the address, which only this call has. */
static void on_crash(int number, siginfo_t *info, void *context)
{
    give_terminal_back();
    say_where();
    for (size_t i = 0; i < CRASHING; i++)
        if (crashing[i] == number) {
            sigaction(number, &crash.before[i], NULL);
            if (crash.before[i].sa_flags & SA_SIGINFO)
                crash.before[i].sa_sigaction(number, info, context);
        }
    raise(number);
}

static void catch_crashes(void)
{
    struct sigaction mine = {.sa_sigaction = on_crash, .sa_flags = (int)(SA_SIGINFO | SA_NODEFER)};

    crash.modes_known = tcgetattr(STDIN_FILENO, &crash.modes) == 0;
    sigemptyset(&mine.sa_mask);
    for (size_t i = 0; i < CRASHING; i++)
        if (sigaction(crashing[i], NULL, &crash.before[i]) == 0 &&
            crash.before[i].sa_handler != SIG_IGN)
            sigaction(crashing[i], &mine, NULL);
}

int signals_catch(sigset_t *before, struct error *e)
{
    struct sigaction now;
    sigset_t set;
    int descriptor;

    sigemptyset(&set);
    for (int number = 1; number <= SIGRTMAX; number++)
        if (!among(crashing, CRASHING, number) &&
            !among(harmless, sizeof harmless / sizeof *harmless, number) &&
            sigaction(number, NULL, &now) == 0 && now.sa_handler == SIG_DFL)
            sigaddset(&set, number);
    sigprocmask(SIG_BLOCK, &set, before);
    descriptor = signalfd(-1, &set, SFD_NONBLOCK | SFD_CLOEXEC);
    if (descriptor < 0)
        return error_set(e, ERROR_SYSTEM, "signals cannot be received: %s", strerror(errno));
    catch_crashes();
    return descriptor;
}

void signals_words(const char *where)
{
    char *shown = where == NULL ? NULL : text_shown(where, false);

    crash.words[0] = '\0';
    if (shown != NULL)
        snprintf(crash.words, sizeof crash.words, "\ncoldlap: " SIGNALS_WORDS "\n", shown);
    free(shown);
}

void signals_terminal_taken(bool taken)
{
    if (taken)
        crash.length = term_type_give_back(crash.bytes, sizeof crash.bytes);
    crash.taken = taken;
}

void signals_end_by(int number)
{
    struct sigaction now;

    if (sigaction(number, NULL, &now) == 0 && now.sa_handler != SIG_IGN)
        signal(number, SIG_DFL); /* curses has put a handler of its own there */
    raise(number);
}
