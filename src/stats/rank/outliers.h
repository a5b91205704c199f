/*
 * Outliers and stability: each coupon in turn is left out, the ranking is made from the others, and
 * the result of the coupon is held against what they predict.
 *
 * The probability is two-sided: twice the smaller of "this far down" and "this far up" under the
 * averaged model. A held coupon can be an outlier upward only: its probability is that of reaching
 * its limit; an "at most" one downward only. A coupon is an outlier when that probability, times
 * the number of coupons tested, is below OUTLIERS_BELOW (Bonferroni).
 */
#ifndef STATS_RANK_OUTLIERS_H
#define STATS_RANK_OUTLIERS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "stats/data/frame.h"

struct ranking;

#define OUTLIERS_BELOW 0.10

struct outlier_check {
    size_t row;
    double expected, low, high; /* what the others predict: mean, 90 % interval, result's unit */
    double chance;              /* of a result as far out as its own, 0 … 1 */
    bool outlier;
    bool alone;      /* the others cannot predict it: the only one at some level (the figures above
                        are NAN), or too few left to rank without it (the lists are empty as well) */
    size_t *order;   /* columns of the frame in order of the ranking without it */
    double *chances; /* one a column of the frame; NAN where not ranked */
    size_t order_count;
    bool same_first; /* first place is the same as with it, or never was worth a hint */
    bool same_words; /* none that was likely or clear falls below a hint, none below a hint becomes
                        likely */
};

struct outliers {
    struct outlier_check *coupons; /* least likely first, those alone last */
    size_t count;
    bool steady; /* leaving out any one coupon keeps the first place and how sure it is */
    bool all;    /* false: only the most surprising of more than OUTLIERS_ALL coupons were left out
                  */
};

/* Up to OUTLIERS_ALL coupons are all left out in turn; above, the OUTLIERS_ALL most surprising;
 * above OUTLIERS_MANY, OUTLIERS_FEW of them. */
enum { OUTLIERS_ALL = 100, OUTLIERS_MANY = 1000, OUTLIERS_FEW = 20 };

/* `r` is the ranking of the same frame. ERROR_ANSWER as model_average_make(); `out` is empty then.
 * The caller frees `out`. */
int outliers_find(const struct frame *f, const struct ranking *r, struct outliers *out,
                  struct error *e);
void outliers_free(struct outliers *o);

#endif
