/* Finds the best candidate, or the best several together. For design_next() and its tests. */
#ifndef STATS_DESIGN_EXCHANGE_H
#define STATS_DESIGN_EXCHANGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "stats/design/criterion.h"

struct exchange {
    const struct candidates *candidates;
    struct criterion *criterion;
    bool all;      /* try every combination */
    size_t starts; /* else: random starts of the climb */
    uint64_t seed;
    size_t *chosen; /* count × groups, set-ups chosen so far */
    size_t count;
};

/* The set-up with the largest criterion into `choice` (one position a group); equal ones: the
 * fewest changes, then the first in order. */
void exchange_best(struct exchange *s, size_t *choice);
/* Counts chosen set-up `at` in the criterion once more (1) or no longer (−1). */
void exchange_count(struct exchange *s, size_t at, double times);
/* `count` set-ups into s->chosen, one after the other, each added to the criterion. */
void exchange_greedy(struct exchange *s, size_t count);
/* The same, then exchanged one by one until log det M gains no more; the best of that and of
 * `tries` random starts. */
void exchange_together(struct exchange *s, size_t count, size_t tries);

#endif
