/*
 * Orders of the variables to hold against each other: what the program does, other ways of reading
 * the same averaged fit, and simpler methods.
 */
#ifndef TESTS_SIMULATE_RIVALS_H
#define TESTS_SIMULATE_RIVALS_H

#include <stddef.h>

#include "scene.h"
#include "stats/rank/ranking.h"

struct rival {
    const char *name;
    /* Fills in one number a column, larger is nearer to the top; equal ones share their places. */
    void (*score)(const struct scene *s, const struct ranking *r, double *score);
};

enum { RIVALS = 9 };
extern const struct rival rivals[RIVALS]; /* the first one is the program's */

#endif
