/*
 * The wire feed a machine's dial really gives: measured points, and what lies between.
 *
 * Straight line between neighbouring dial positions; readings at the same position are averaged.
 * Uncertainty, first order: √{[(1−w)·u₀]² + [w·u₁]² + [(w·(1−w)/2)·h²·f″]²}, where w is the place
 * between the points 0 and 1, h their distance, u their own uncertainties and f″ the larger second
 * divided difference (times 2) with the neighbours on either side: what a curve through the points
 * would bend away from the line. With two points the bend is unknown and left out. Source: error of
 * linear interpolation, any numerical analysis text; JCGM 100:2008 5.1.2 for the sum.
 * Range: from the first to the last dial position; nothing is said beyond.
 */
#ifndef WELD_FEEDTABLE_H
#define WELD_FEEDTABLE_H

#include <stddef.h>

#include "model/units.h"

struct feed_point {
    double dial;             /* number on the dial */
    struct mm_per_min feed;  /* measured */
    struct mm_per_min error; /* ± of that reading */
};

struct feed_answer {
    struct mm_per_min feed, error; /* NAN outside */
    const char *outside;
};

/* A feed as a run of 6 s would have given it: ± √[(0.5 mm/length)² + (0.2 s/6 s)²] · feed [common].
 * Range: feed above 0. */
struct feed_point feed_point_usual(double dial, struct mm_per_min feed);
/* Sorts `points` by dial and folds repeats together; returns how many are left. A repeat's error is
 * the larger of the mean of the readings' own over √n and the standard error of their spread. */
size_t feed_table_sort(struct feed_point *points, size_t count);
/* `points` as left by feed_table_sort(). */
struct feed_answer feed_table_at(const struct feed_point *points, size_t count, double dial);

#endif
