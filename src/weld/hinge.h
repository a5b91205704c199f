/*
 * Where a tee coupon folds: in the plate, or in the weld. Plastic hinges, per mm of joint.
 *
 *   plate                       M = fy·t²/4
 *   one side, root opening      M = fw·a²/4
 *   one side, root closing      M = F·(t + a/(2√2))    the heel of the plate bears
 *   both sides                  M = F·(t + a/√2)
 *   F = fw·a/√2, the transverse fillet           EN 1993-1-8 4.5.3.2 (directional method) [mem]
 *   a is the throat that is fused: the throat less the unfused root depth u.
 *   Hinges: textbook plasticity of a rectangular section (t²/4) [calc].
 *
 * Ratio below 1: the weld hinges, and breaks at a small angle. Above 1: the plate folds. The source
 * warns of one-sided welds in bending (EN 1993-1-8 4.12). It sorts coupons; it permits no load.
 *
 * Range: t, a, fy, fw above 0, 0 ≤ u < a; a no deeper than 2·t (beyond it the triangle is not what
 * yields) [common].
 */
#ifndef WELD_HINGE_H
#define WELD_HINGE_H

#include <stdbool.h>
#include <stddef.h>

#include "model/units.h"

/* MPa, taken when they are not known [common]: plate of mild steel; weld metal of a 70 ksi class.
 */
#define HINGE_USUAL_YIELD 250
#define HINGE_USUAL_STRENGTH 480

enum hinge_opening { HINGE_ROOT, HINGE_FACE }; /* what the fold opens; both sides: no difference */

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
    const char *outside; /* NULL inside the range; else why; NAN when it spoils the figures */
};

struct hinge hinge_check(const struct hinge_joint *joint);
/* Throat (unfused root included) at which weld_to_plate equals `ratio`; `joint->throat` is not
 * read. NAN unless the rest is in range and ratio above 0. */
struct mm hinge_throat_needed(const struct hinge_joint *joint, double ratio);

/*
 * The strength fw a technique really reaches, from its own coupons, by interval arithmetic.
 *   held:  the weld carried the fold of the plate, so fw is at least M_plate/shape;
 *   broke: the weld gave way before, so fw is at most M_plate/shape;
 *   with a peak moment measured, that takes the place of M_plate, and broke gives both bounds.
 * Every length is taken at the end of its ± that weakens the statement, as is the yield: the bounds
 * hold for all readings within their ±. Statements of one kind are joined by the strongest.
 */
struct hinge_coupon {
    struct hinge_joint joint; /* strength is not read */
    bool held;                /* folded to the stop unbroken */
    struct newton moment;     /* measured peak, N·mm/mm; NAN when there was no gauge */
    struct mm thickness_error, throat_error, unfused_error; /* ± of each */
    double yield_error; /* ± of fy and of the moment, as a share: 0.1 */
};

struct hinge_fit {
    struct mpa at_least, at_most; /* 0 and +infinity when no coupon says */
    size_t held, broke, left_out; /* left out: outside the range */
    bool contradict;              /* at_least > at_most: coupons of one technique that scatter */
};

struct hinge_fit hinge_fit(const struct hinge_coupon *coupons, size_t count);

#endif
