/*
 * Values of a coupon that follow from others: the columns the ranking may take instead of the raw
 * ones. A value that was entered stands; only what is missing is computed.
 *
 *   travel_speed     mm/min   bead length / arc time; several passes: sum of lengths / sum of times
 *   passes           count    passes on record
 *   arc_energy       kJ/mm    U·I/v per pass; several passes: mean over the bead's length (weights
 *                             the pass lengths, else the arc times) — a mean, never a sum
 *   heat_input       kJ/mm    k·arc_energy, k by the process (EN 1011-1 Table 1); missing without k
 *   t85              s        EN 1011-2 Annex D from the mean heat input, temperature before the
 *                             first pass (preheat, else 20 °C), thickness and joint; lap as tee
 *   throat_ratio     number   fillet throat / thickness of the thinner member
 *   bend_angle       deg      |after − before|; held → at least; tore and broke → exact
 *   fused_share      %        of the bead's length, from the flaws that are lack of fusion
 *   longest_unfused  mm       longest stretch of such flaws, touching ones joined
 *   unfused_at_start mm       length of the stretch that begins at the start of the bead
 *   peak_moment      N·m      peak load × lever; held → at least
 *   first_crack_angle deg     as noted; held with none noted → at least the bend angle
 *
 * Sources of the formulas: weld/heat.h, cooling.h, fillet.h, bendtest.h.
 */
#ifndef APP_DERIVED_H
#define APP_DERIVED_H

#include <stdbool.h>
#include <stddef.h>

#include "model/coupon.h"
#include "model/measure.h"

/* Base unit of the variable; missing when it cannot be said or the key is not in the list above. */
struct measure derived_value(const struct coupon *c, const char *key);
bool derived_known(const char *key);  /* in the list above */
const char *derived_key_at(size_t i); /* NULL behind the last */

#endif
