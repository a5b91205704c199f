/*
 * Odd coupons and steadiness: each coupon in turn is left out, the ranking is made from the others,
 * and asked how likely a result like that coupon's was.
 *
 * The chance is two-sided: twice the smaller of "this far down" and "this far up" under the
 * averaged model (every subset with its weight, scatter uncertain: Student's t). For a held coupon
 * only "this far up" can be judged, so it is the one-sided chance of reaching its limit. A coupon
 * is called odd when that chance, times the coupons looked at, is below ODD_BELOW (Bonferroni).
 */
#ifndef STATS_ODD_H
#define STATS_ODD_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "stats/frame.h"

struct ranking;

#define ODD_BELOW 0.10

struct odd_coupon {
    size_t row;
    double expected, low, high; /* what the others lead to expect: mean, 90 % range */
    double chance;              /* of a result as far out as its own */
    double density;             /* log of the leave-one-out predictive density or probability */
    bool odd;
    size_t *order;   /* columns of the frame in order of the ranking without it */
    double *chances; /* one a column, in the order of the frame; NAN not ranked */
    size_t order_count;
    bool same_first; /* first place is the same as with it */
    bool same_clear; /* the same variables reach the word "likely" or better */
};

struct odd_report {
    struct odd_coupon *coupons; /* least likely first */
    size_t count;
    bool steady;   /* leaving out any one coupon keeps the first place and what is likely */
    bool all;      /* false: more than ODD_ALL coupons, only the most surprising were left out */
    size_t looked; /* coupons judged */
};

enum { ODD_ALL = 100 };

/* Refuses what ranking itself refuses. `r` is the ranking of the same frame. */
int odd_check(const struct frame *f, const struct ranking *r, struct odd_report *out,
              struct error *e);
void odd_free(struct odd_report *o);

#endif
