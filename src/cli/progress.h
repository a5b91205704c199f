/*
 * How far long work has come, on stderr when that is a terminal, from the second second on.
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

struct progress progress_begin(const char *what);
/* To be called with a struct progress as context and the part done; always goes on: Ctrl-C ends
 * the program, which has nothing to put in order while it only reads. */
bool progress_show(void *context, double done);
void progress_end(struct progress *p); /* takes the line away again */

#endif
