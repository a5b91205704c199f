/* What a chosen set-up would settle, as data for words (struct design_coupon). Inside stats only.
 */
#ifndef STATS_DESIGN_SAY_H
#define STATS_DESIGN_SAY_H

#include <stddef.h>

#include "stats/design.h"
#include "stats/design_score.h"
#include "stats/design_space.h"

/*
 * Describes values[at] (one number a group, the earlier ones taken as welded) and welds it into the
 * score, which has the earlier ones in it already.
 */
void design_explain(const struct candidates *s, struct criterion *score, const double *values,
                    size_t at, struct design_coupon *out);

#endif
