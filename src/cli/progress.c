#include "cli/progress.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"

enum { FIRST_AFTER_MS = 1000, EVERY_MS = 250 };

static const char erase[] = "\r\033[K";
static const int ends[] = {SIGINT, SIGTERM, SIGHUP};
enum { ENDS = sizeof ends / sizeof ends[0] };

/* The line goes, and the program ends as if nobody had caught the signal: what is not whole on the
 * disk by then is not stored. */
static void erase_and_end(int number)
{
    ssize_t written = write(STDERR_FILENO, erase, strlen(erase));

    (void)written;
    signal(number, SIG_DFL);
    raise(number);
}

/* A signal that is ignored, under nohup, stays so. */
static void set_handlers(void (*from)(int), void (*to)(int))
{
    struct sigaction is;

    for (size_t i = 0; i < ENDS; i++)
        if (sigaction(ends[i], NULL, &is) == 0 && is.sa_handler == from)
            signal(ends[i], to);
}

struct progress progress_begin(const char *what)
{
    struct progress p = {.what = what, .terminal = isatty(STDERR_FILENO) != 0};

    p.begun_ms = clock_monotonic_ms();
    return p;
}

void progress_line(char *out, size_t size, const char *what, double done, int64_t since_ms)
{
    double left_s = done > 0 ? (double)since_ms / 1000 * (1 - done) / done : 0;

    snprintf(out, size, "%s: %3.0f %%", what, floor(100 * done));
    if (done > 0 && done < 1) {
        size_t length = strlen(out);

        snprintf(out + length, size - length, ", %.0f %s left",
                 ceil(left_s < 100 ? left_s : left_s / 60), left_s < 100 ? "s" : "min");
    }
}

bool progress_show(void *context, double done)
{
    struct progress *p = context;
    int64_t now = clock_monotonic_ms();
    char line[128];

    if (!p->terminal || now - p->begun_ms < FIRST_AFTER_MS || now - p->shown_ms < EVERY_MS)
        return true;
    if (!p->shown)
        set_handlers(SIG_DFL, erase_and_end);
    p->shown = true;
    progress_line(line, sizeof line, p->what, done, now - p->begun_ms);
    fprintf(stderr, "%s%s", erase, line);
    p->shown_ms = now;
    return true;
}

void progress_end(struct progress *p)
{
    if (p->shown) {
        fprintf(stderr, "%s", erase);
        set_handlers(erase_and_end, SIG_DFL);
    }
    p->shown = false;
}
