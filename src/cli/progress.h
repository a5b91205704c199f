/*
 * How far a long calculation has come, in per cent on stderr: only on a terminal, and only when it
 * takes longer than a second.
 */
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include <stdbool.h>
#include <stdint.h>

struct progress {
    const char *what;
    int64_t begun_ms, shown_ms; /* monotonic */
    bool terminal, shown;
};

/* `what` is being worked out: "ranking". It is kept, not copied. */
struct progress progress_begin(const char *what);
/* Progress callback: `context` is a struct progress, `done` the part done, 0 to 1. Always true;
 * Ctrl-C ends the program, which has nothing to tidy up while it only reads. */
bool progress_show(void *context, double done);
/* Erases the line, if one was shown. Safe on a zeroed struct. */
void progress_end(struct progress *p);

#endif
