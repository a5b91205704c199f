/*
 * Cutting coupons from bar.
 *
 *   pieces from a bar  ⌊(bar − ends + kerf)/(piece + kerf)⌋: the last cut may fall into the waste
 *   bar for n pieces   n·piece + (n − 1)·kerf
 *   Source: arithmetic of cutting to length; kerf as measured (grinder 2–3 mm, saw 1 mm) [common].
 *   Range: piece above 0, the rest 0 or more.
 */
#ifndef WELD_STOCK_H
#define WELD_STOCK_H

#include "model/units.h"

struct cut {
    long per_bar, bars;  /* whole pieces from one bar; bars to buy */
    struct mm used;      /* length of stock that `pieces` take, kerfs between them */
    struct mm left;      /* on the last bar */
    struct kg mass;      /* of the pieces; NAN without width and thickness */
    const char *outside; /* NULL inside the range; else why, counts 0, lengths NAN */
};

/* `ends`: unusable length of a bar. width and thickness may be NAN. */
struct cut stock_cut(long pieces, struct mm piece, struct mm kerf, struct mm bar, struct mm ends,
                     struct mm width, struct mm thickness);

#endif
