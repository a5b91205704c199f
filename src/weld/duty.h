/*
 * Duty cycle: arc-on time as a share of ten minutes. IEC 60974-1 [mem]: the period is 10 min.
 *
 *   at another current  X = X_rated·(I_rated/I)², at most 100 %   [common]: equal heating I²·X
 *   over a log of passes: the share in the ten-minute window with the most arc time, and in the
 *   ten minutes before a given moment. A shorter log is still divided by ten minutes.
 */
#ifndef WELD_DUTY_H
#define WELD_DUTY_H

#include <stddef.h>

#include "model/units.h"

#define DUTY_WINDOW_S 600.0

struct duty {
    struct percent share; /* 0 … 100 */
    const char *outside;  /* NULL inside the range */
};

/* Range: rated above 0 and up to 100 %, currents above 0. Above the rated current the rule may not
 * hold, or the machine may not reach it: `outside` says so, and the figure is still returned. */
struct duty duty_at_current(struct percent rated, struct ampere rated_current, struct ampere i);
/* The current the machine can carry without a pause: I_rated·√(X_rated/100). */
struct ampere duty_full_current(struct percent rated, struct ampere rated_current);

/* One arc, in seconds on a clock common to all passes. */
struct duty_span {
    double from_s, to_s;
};
/* Spans may be in any order but must not overlap. Without spans: 0 %. */
struct duty duty_worst(const struct duty_span *spans, size_t count);
struct duty duty_last(const struct duty_span *spans, size_t count, double now_s);

#endif
