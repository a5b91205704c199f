/*
 * The value of a variable for a coupon: the entered value if there is one, else worked out from
 * other values, passes, bend and face:
 *
 *   travel_speed      mm/min  sum of the passes' lengths over the sum of their arc times
 *   passes            count   passes on record
 *   arc_energy        kJ/mm   U·I/v a pass, volts and amps of the pass, else of the set-up; several
 *                             passes: their mean, each counting by its length (where one has none,
 *                             by arc time; where that is missing too, alike). A mean, never a sum
 *   heat_input        kJ/mm   k·arc_energy, k by the process (EN 1011-1 Table 1); missing without k
 *   t85               s       EN 1011-2 Annex D from that heat input, the temperature before the
 *                             first pass (else the preheat, else 20 °C), thickness, and the joint's
 *                             shape factors (lap as tee; edge and unknown as plate)
 *   throat_ratio      number  fillet throat over the thickness of the folded member
 *   leg_ratio         number  leg over that thickness
 *   bend_angle        deg     |included after − before|; before not recorded: 90° for tee and
 *                             corner, 180° for other joints; held → at least
 *   fused_share       %       of the bead's length, less the flaws that take fusion away
 *   longest_unfused   mm      longest stretch of such flaws, overlapping and touching ones joined
 *   unfused_at_start  mm      end of the stretch that begins at the start of the bead; 0: none does
 *   peak_moment       N·m     peak load × lever; held → at least
 *   first_crack_angle deg     as noted; not noted: held → at least, broken → at most the bend angle
 *
 * Sources of the formulas: weld/heat.h, cooling.h, fillet.h, bendtest.h.
 */
#ifndef DERIVED_DERIVED_H
#define DERIVED_DERIVED_H

#include <stdbool.h>
#include <stddef.h>

#include "model/coupon.h"
#include "model/measure.h"
#include "model/variable.h"

/* In the base unit of the variable; missing when it is neither entered nor can be worked out. */
struct measure coupon_measure(const struct coupon *c, const char *key);
/* Whether it is one of those above. */
bool coupon_works_out(const char *key);
/* "at least 135°", "5.2 HV": in the units shown, the user's own unit included; "–" when missing. */
void measure_show(char *out, size_t size, struct measure m, const struct variable *v,
                  enum unit_system units);
/* A coupon's variable as shown on card and list: the entry, the category or the number worked out.
 * "" when nothing is known. */
void coupon_show(char *out, size_t size, const struct coupon *c, const struct variable *v,
                 enum unit_system units);

/* The readings of one pass; those it lacks come from the coupon's set-up. */
struct pass_readings {
    double volts, amps;
    double speed; /* mm/min as set for the coupon; NAN when the pass has length and time */
    double length_mm, arc_s;
};

/* `pass` NULL: from the coupon's set-up alone. */
struct pass_readings pass_readings_of(const struct coupon *c, const struct pass *pass);
/* mm/s: length/time, else the speed set; NAN when not known. */
double pass_travel_speed(const struct pass_readings *r);

double coupon_number(const struct coupon *c, const char *key);    /* exact number, else NAN */
const char *coupon_text(const struct coupon *c, const char *key); /* category, else NULL */
/* Included angle before folding: as recorded, from the gap, else 90° for tee and corner, 180° for
 * other joints; NAN when the joint is not known either. */
double coupon_included_before(const struct coupon *c);
double coupon_included_after(const struct coupon *c);
/* Temperature before the first pass: of the pass, else the preheat; NAN when neither is known. */
double coupon_start_c(const struct coupon *c);
/* Name of the joint in cooling_joint_find(); lap as tee, others and unknown as plate. */
const char *coupon_cooling_joint(const struct coupon *c);

#endif
