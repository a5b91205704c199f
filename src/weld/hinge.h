/*
 * Where a tee coupon folds: in the plate, or in the weld. Plastic hinges, per mm of joint.
 *
 *   plate                       M = fy·t²/4
 *   one side, root opening      M = fw·a²/4
 *   one side, root closing      M = F·(t + a/(2√2))    about the heel of the plate
 *   both sides                  M = F·(t + a/√2)
 *   F = fw·a/√2, the transverse fillet           EN 1993-1-8 4.5.3.2 (directional method) [mem]
 *   a is the fused throat: the throat minus the unfused depth u at the root.
 *   Hinges: textbook plasticity of a rectangular section (t²/4) [calc].
 *
 * Ratio below 1: the weld yields first and breaks at a small angle. Above 1: the plate folds.
 * EN 1993-1-8 4.12 warns against one-sided welds in bending. Use the ratio to compare coupons, not
 * to allow a load.
 *
 * Range: t, a, fy, fw above 0; 0 ≤ u < a; a at most 2·t (in a larger weld the triangle does not
 * yield as a whole) [common].
 */
#ifndef WELD_HINGE_H
#define WELD_HINGE_H

#include <stdbool.h>
#include <stddef.h>

#include "model/units.h"

/* MPa, used when not known [common]: mild steel plate; weld metal of a 70 ksi class. */
#define HINGE_USUAL_YIELD 250
#define HINGE_USUAL_STRENGTH 480

enum hinge_opening { HINGE_ROOT, HINGE_FACE }; /* which side folding opens; ignored with 2 sides */

struct hinge_joint {
    struct mm thickness; /* of the member that is folded */
    struct mm throat, unfused;
    struct mpa yield;    /* plate, fy */
    struct mpa strength; /* weld, fw */
    int sides;           /* 1 or 2 */
    enum hinge_opening opening;
};

struct hinge {
    struct newton plate, weld; /* moment per length of joint, N·mm/mm */
    double weld_to_plate;
    const char *outside; /* NULL inside the range, else the reason; the figures may be NAN then */
};

struct hinge hinge_check(const struct hinge_joint *joint);
/* Throat, including the unfused depth, at which weld_to_plate equals `ratio`. Ignores
 * `joint->throat`. NAN unless the rest is in range and `ratio` is above 0. */
struct mm hinge_throat_needed(const struct hinge_joint *joint, double ratio);

/*
 * Bounds on the strength fw that a technique reaches, from its own coupons, by interval arithmetic.
 *   held:  the plate folded before the weld broke, so fw is at least M_plate/shape;
 *   broke: the weld broke before the plate folded, so fw is at most M_plate/shape;
 *   a measured peak moment replaces M_plate, and a broken coupon then gives both bounds.
 * Lengths and yield are taken at whichever end of their ± gives the weaker bound, so the bounds
 * hold for all readings within their ±. Of several coupons the tightest bound counts.
 */
struct hinge_coupon {
    struct hinge_joint joint; /* strength is ignored */
    bool held;                /* folded to the stop unbroken */
    struct newton moment;     /* measured peak, N·mm/mm; NAN when there was no gauge */
    struct mm thickness_error, throat_error, unfused_error; /* ± of each */
    double yield_error; /* ± of fy and of the moment, as a share: 0.1 */
};

struct hinge_fit {
    struct mpa at_least, at_most; /* 0 and +infinity when no coupon bounds it */
    size_t held, broke, left_out; /* left out: outside the range */
    bool contradict;              /* at_least > at_most: the coupons scatter too much */
};

struct hinge_fit hinge_fit(const struct hinge_coupon *coupons, size_t count);

#endif
