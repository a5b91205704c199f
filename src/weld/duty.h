/*
 * Duty cycle: arc-on time as a share of ten minutes. IEC 60974-1 [mem]: the period is 10 min.
 *
 *   at another current  X = X_rated·(I_rated/I)², at most 100 %   [common]: equal heating I²·X
 *   over a log of passes: the ten-minute window that holds the most arc time, and the ten minutes
 *   that end at a given moment. A log shorter than ten minutes still counts over ten.
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

/* Range: rated above 0 and up to 100 %, currents above 0. Asked beyond the rated current the rule
 * may not hold (the machine may not give it at all): said in `outside`, the figure stands. */
struct duty duty_at_current(struct percent rated, struct ampere rated_current, struct ampere i);
/* The current that can run for the whole of ten minutes: I_rated·√(X_rated/100). */
struct ampere duty_full_current(struct percent rated, struct ampere rated_current);

/* One arc: seconds on any clock that all passes share. */
struct duty_span {
    double from_s, to_s;
};
/* Spans may come in any order and must not overlap. No span: 0 %. */
struct duty duty_worst(const struct duty_span *spans, size_t count);
struct duty duty_last(const struct duty_span *spans, size_t count, double now_s);

#endif
