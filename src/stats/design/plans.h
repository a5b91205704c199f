/*
 * What to weld next: the coupons, out of every combination of the levels at hand, whose results
 * would settle most. Coupons already welded are fixed.
 *
 * With results: one coupon at a time, the one that most narrows the effects likely to matter.
 * Without results: the plan with the largest log det M (Bayesian D), by exchange with seeded starts
 * when more than one is asked for. Criterion and information: criterion.h. Equal scores go to
 * the coupon with the fewest changes from one already welded (where these are not more than 2000
 * different set-ups).
 *
 * Up to DESIGN_ALL combinations are all tried. Beyond, the search climbs by changing one variable
 * at a time from many starts: 64 welded set-ups, 4 of the chosen ones, and seeded random ones.
 */
#ifndef STATS_DESIGN_PLANS_H
#define STATS_DESIGN_PLANS_H

#include "stats/design/explain.h"

enum { DESIGN_ALL = 20000, DESIGN_STARTS = 24 };

struct design {
    struct design_coupon *coupons;
    size_t count;
    bool from_results;   /* weighted by chance; else the most even plan */
    bool all_tried;      /* every combination was; else a search */
    double combinations; /* of the levels at hand */
    double log_det_gain; /* log det M after all of them less log det M before */
};

/* ERROR_USAGE when the count is not 1 to 64; ERROR_ANSWER when no column has two levels at hand.
 * The same seed gives the same coupons on every machine. The caller frees `out`. */
int design_next(const struct frame *f, const struct design_request *request, struct design *out,
                struct error *e);
void design_free(struct design *d);

#endif
