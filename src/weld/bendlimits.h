/*
 * Acceptance limits for guided-bend and fillet-break specimens made to a code. No code limits the
 * bend angle of a tee or corner coupon. Check your own copy of the code.
 *
 * Guided bend, convex face only, AWS D1.1:2015 4.9.3.3: no flaw above 3 mm (1/8 in);
 * flaws above 1 mm (1/32 in) and up to 3 mm add up to at most 10 mm (3/8 in); a corner crack is at
 * most 6 mm (1/4 in), or 3 mm (1/8 in) if it shows slag or lack of fusion. A longer corner crack
 * without these calls for a new specimen.
 *
 * Fillet break, root in tension, AWS D1.1:2010 4.31.4.1: the specimen folds flat; or the
 * broken face shows fusion to the root over its whole length, no inclusion or pore above 2.5 mm
 * (3/32 in), and at most 10 mm (3/8 in) of them in a specimen of 150 mm (6 in). ISO 9017 covers
 * fracture tests above 2 mm.
 *
 * The limits in mm and in inches differ slightly: 3 mm is not 1/8 in. Sizes are given in the unit
 * of the system (mm or in) and judged by the limits of that system, without conversion.
 */
#ifndef WELD_BENDLIMITS_H
#define WELD_BENDLIMITS_H

#include <stdbool.h>
#include <stddef.h>

#include "model/units.h"

enum limit_verdict {
    LIMIT_PASS,
    LIMIT_FAIL,
    LIMIT_NEW_SPECIMEN,
    LIMIT_OUTSIDE /* the limits do not apply to this specimen */
};

struct limit_answer {
    enum limit_verdict verdict;
    const char *why; /* the limit that decided, one sentence */
};

struct corner_crack {
    double size;
    bool from_flaw; /* it shows slag or lack of fusion */
};

struct limit_answer guided_bend(enum unit_system system, const double *sizes, size_t count,
                                const struct corner_crack *corners, size_t corner_count);
/* `length` of the specimen; NAN: as in the code. LIMIT_OUTSIDE if it is off by over a tenth. */
struct limit_answer fillet_break(enum unit_system system, bool folded_flat, bool fused_to_root,
                                 const double *sizes, size_t count, double length);

#endif
