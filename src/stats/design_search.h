/* Finds the best set-up of a space, or the best several together. Inside stats only. */
#ifndef STATS_DESIGN_SEARCH_H
#define STATS_DESIGN_SEARCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "stats/design_score.h"

struct exchange {
    const struct candidates *candidates;
    struct criterion *criterion;
    bool all;      /* try every combination */
    size_t starts; /* else: random starts of the climb */
    uint64_t seed;
    size_t *chosen; /* count × groups, set-ups chosen so far */
    size_t count;
};

/* The set-up with the largest score; ties go to the fewest changes, then to the first in order. */
void exchange_best(struct exchange *s, size_t *choice);
/* `count` set-ups into s->chosen, one after the other, each welded into the score. */
void exchange_greedy(struct exchange *s, size_t count);
/* The same, then exchanged one by one until log det M gains no more; the best of that and of
 * `tries` random beginnings. */
void exchange_together(struct exchange *s, size_t count, size_t tries);

#endif
