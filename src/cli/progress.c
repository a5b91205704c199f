#include "cli/progress.h"

#include <stdio.h>
#include <unistd.h>

#include "base/clock.h"

enum { FIRST_AFTER_MS = 1000, EVERY_MS = 250 };

struct progress progress_begin(const char *what)
{
    struct progress p = {.what = what, .terminal = isatty(STDERR_FILENO) != 0};

    p.begun_ms = clock_monotonic_ms();
    return p;
}

bool progress_show(void *context, double done)
{
    struct progress *p = context;
    int64_t now = clock_monotonic_ms();

    if (!p->terminal || now - p->begun_ms < FIRST_AFTER_MS || now - p->shown_ms < EVERY_MS)
        return true;
    fprintf(stderr, "\r%s: %3.0f %%", p->what, 100 * done);
    p->shown_ms = now;
    p->shown = true;
    return true;
}

void progress_end(struct progress *p)
{
    if (p->shown)
        fprintf(stderr, "\r\033[K");
    p->shown = false;
}
