/*
 * How far long work has come, in per cent on stderr, and about how long it will take yet: only on a
 * terminal, and only when it takes longer than a second. While it is shown a signal that ends the
 * program erases it first.
 */
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct progress {
    const char *what;
    int64_t begun_ms, shown_ms; /* monotonic */
    bool terminal, shown;
};

/* `what` is being worked out: "ranking". It is kept, not copied. */
struct progress progress_begin(const char *what);
/* Progress callback: `context` is a struct progress, `done` the part done, 0 to 1. Always true: who
 * wants to stop the work ends the program. */
bool progress_show(void *context, double done);
/* What is shown: "importing:  25 %, 12 s left". */
void progress_line(char *out, size_t size, const char *what, double done, int64_t since_ms);
/* Erases the line, if one was shown. Safe on a zeroed struct. */
void progress_end(struct progress *p);

#endif
