/*
 * Simulated trials: coupons welded on paper, with known drivers. 540 kinds: coupons × kind of
 * trial × drivers × scatter × share held; variables and stop are drawn.
 */
#ifndef TESTS_SIMULATE_SCENE_H
#define TESTS_SIMULATE_SCENE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "stats/data/frame.h"
#include "stats/num/random.h"

enum { SCENE_SIZES = 5, SCENE_KINDS = 4, SCENE_DRIVERS = 3, SCENE_SCATTERS = 3, SCENE_HELD = 3 };
enum { SCENE_CELLS = SCENE_SIZES * SCENE_KINDS * SCENE_DRIVERS * SCENE_SCATTERS * SCENE_HELD };
enum { SCENE_VARIABLES = 6, SCENE_COUPONS = 24, SCENE_LEVELS = 3 };

extern const size_t scene_sizes[SCENE_SIZES];       /* coupons: 6, 8, 12, 16, 24 */
extern const char *const scene_kinds[SCENE_KINDS];  /* how the variables were changed */
extern const double scene_scatters[SCENE_SCATTERS]; /* degrees */
extern const double scene_held[SCENE_HELD];         /* share expected to reach the stop */

struct scene {
    size_t size, kind, drivers, scatter, held; /* places in the lists above; drivers: how many */
    struct frame f;
    size_t k;
    double effect[SCENE_VARIABLES];              /* change over the tested range; 0: no driver.
                                                    A category's: its largest difference */
    double level[SCENE_VARIABLES][SCENE_LEVELS]; /* categories: what each level adds */
    size_t main;                                 /* the larger driver */
    size_t broke;
};

/* Cell 0 … SCENE_CELLS - 1; the same cell and random state give the same trial. */
void scene_make(size_t cell, struct random *r, struct scene *out);
void scene_free(struct scene *s);

#endif
