/*
 * The one coupon that would tell the members of an alias set apart: like a coupon already welded
 * but for one change in one of the members; of all such the one that narrows their effects most.
 */
#ifndef STATS_DESIGN_SEPARATE_H
#define STATS_DESIGN_SEPARATE_H

#include "stats/design/candidates.h"
#include "stats/rank/aliasing.h"

/* Fills in `separated_by` of every set for which the levels at hand allow such a coupon. `aliasing`
 * is of the same frame. */
void design_separate(const struct frame *f, const struct design_request *request,
                     struct aliasing *aliasing);

#endif
