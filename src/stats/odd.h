/*
 * Odd coupons and steadiness: each coupon in turn is left out, the ranking is made from the others,
 * and asked how likely a result like that coupon's was.
 *
 * The chance is two-sided: twice the smaller of "this far down" and "this far up" under the
 * averaged model (predict.h). A held coupon can be odd upward only: its chance is that of reaching
 * its limit; an "at most" one downward only. A coupon is called odd when that chance, times the
 * coupons looked at, is below OUTLIERS_BELOW (Bonferroni).
 */
#ifndef STATS_ODD_H
#define STATS_ODD_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "stats/frame.h"

struct ranking;

#define OUTLIERS_BELOW 0.10

struct outlier_check {
    size_t row;
    double expected, low, high; /* what the others lead to expect: mean, 90 % range */
    double chance;              /* of a result as far out as its own */
    bool outlier;
    bool alone;    /* the others cannot speak for it: the only one at some level (the figures above
                      are NAN), or too few left to rank without it (the lists are empty as well) */
    size_t *order; /* columns of the frame in order of the ranking without it */
    double *chances; /* one a column of the frame; NAN where not ranked */
    size_t order_count;
    bool same_first; /* first place is the same as with it, or never was worth a hint */
    bool same_words; /* none that was likely or clear falls below a hint, none below a hint becomes
                        likely */
};

struct outliers {
    struct outlier_check *coupons; /* least likely first, those alone last */
    size_t count;
    bool steady; /* leaving out any one coupon keeps the first place and the words */
    bool all; /* false: more than OUTLIERS_ALL coupons, of which the most surprising were looked at
               */
};

/* Up to OUTLIERS_ALL coupons are all left out in turn; above, as many of them; above OUTLIERS_MANY,
 * OUTLIERS_FEW.
 */
enum { OUTLIERS_ALL = 100, OUTLIERS_MANY = 1000, OUTLIERS_FEW = 20 };

/* Refuses what ranking itself refuses. `r` is the ranking of the same frame. */
int outliers_find(const struct frame *f, const struct ranking *r, struct outliers *out,
                  struct error *e);
void outliers_free(struct outliers *o);

#endif
