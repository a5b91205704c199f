/*
 * Cooling time t8/5: how long the weld takes from 800 °C to 500 °C. EN 1011-2:2001 Annex D.
 *
 *   thick (heat flows three ways)
 *     t = (6700 − 5·T₀)·Q·[1/(500−T₀) − 1/(800−T₀)]·F3
 *   thin (heat flows two ways)
 *     t = (4300 − 4.3·T₀)·10⁵·(Q/d)²·[1/(500−T₀)² − 1/(800−T₀)²]·F2
 *   the larger governs. Transition thickness, where both are equal for F2 = F3 [calc]
 *     d_t = √{(4300−4.3·T₀)·10⁵/(6700−5·T₀)·Q·[1/(500−T₀) + 1/(800−T₀)]}
 *   T₀ °C before the pass, Q kJ/mm heat input, d mm, t s. Shape factors F2, F3: Table D.1 [mem].
 *
 * Range: unalloyed and low-alloy steel, d above 0, Q 0.1 … 5 kJ/mm and T₀ up to 350 °C [common]
 * (near 500 °C the formulas run to infinity); plates wide enough to be endless to the heat. Small
 * coupons are not: it compares coupons, it certifies no time. t8/5 up to 1000 s: 5 kJ/mm on plate
 * of 0.2 mm would give days; the formulas know heat that flows into the plate alone, and in so
 * long a time the air takes a good part of it. The bound is a choice of our own: 0.3 kJ/mm² on
 * plate heated to 350 °C, the most a pass is given, comes to it.
 */
#ifndef WELD_COOLING_H
#define WELD_COOLING_H

#include <stddef.h>

#include "model/units.h"

#define COOLING_MOST_S 1000.0 /* s; our own choice, see the range */

/* Table D.1 gives F2 of fillets as a range; both ends are kept. */
struct cooling_joint {
    const char *name; /* "plate", "butt", "corner", "tee" */
    double f2_low, f2_high, f3;
};

struct cooling {
    struct seconds t85;         /* the larger of thick and thin, with the middle of F2's range */
    struct seconds low, high;   /* t85 with either end of F2's range */
    struct seconds thick, thin; /* each formula by itself, shape factor in; thin: middle of F2 */
    struct mm transition;       /* d_t as above, F2 = F3 */
    struct mm transition_joint; /* times √(F2/F3): where this joint goes over */
    const char *outside;        /* NULL inside the range; else why, and every figure is NAN */
};

struct cooling cooling_time(struct kj_per_mm heat_input, struct celsius before, struct mm thickness,
                            const struct cooling_joint *joint);

const struct cooling_joint *cooling_joint_at(size_t i);           /* NULL behind the last */
const struct cooling_joint *cooling_joint_find(const char *name); /* NULL: no such row */

#endif
