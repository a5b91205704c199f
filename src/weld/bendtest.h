/*
 * What a fold says: angle, elongation, springback.
 *
 *   bend angle     180° − included angle of a flat specimen     ISO 7438:2020 6.3, ISO 5173
 *                  No standard defines it for tee or corner coupons: the included angle before and
 *                  after is what is kept, and |after − before| is a rule of our own.
 *   included angle of two legs whose tips are a gap apart: 2·asin(gap/(2·leg))  geometry
 *   outer-fibre elongation e = 100·t/(2R + t) %, R inside radius        ASME IX QW-466.1 note b
 *                  An angle is not a strain: only with a former or a measured inside radius.
 *   free bend      100·(Y − X)/X %, X and Y the gauge length before and after
 *                                                 US Army OD1651, Navy NAVEDTRA 14250
 *   springback     R₀/Rf = 4X³ − 3X + 1, X = R₀·Y/(E·t)   [mem] Kalpakjian & Schmid, ch. 16
 */
#ifndef WELD_BENDTEST_H
#define WELD_BENDTEST_H

#include "model/units.h"

struct bend_angle {
    struct degree included_before, included_after, angle;
    const char *outside; /* NULL inside the range; else why, and `angle` is NAN */
};

/* Range: included angles 0 … 360°. A flat plate starts at 180°, a tee or corner near 90°. */
struct bend_angle bend_from_included(struct degree before, struct degree after);
/* Equal legs, measured from the corner to the tips. Range: 0 ≤ gap ≤ 2·leg, leg above 0; else NAN.
 * The gap cannot tell an included angle above 180° from one below it. */
struct degree bend_included_from_gap(struct mm gap, struct mm leg);

struct bend_strain {
    struct percent elongation;
    const char *outside;
};

/* Range: thickness and radius above 0 (a sharp fold has no outer fibre to speak of). */
struct bend_strain bend_outer_strain(struct mm thickness, struct mm inside_radius);
struct bend_strain bend_free_elongation(struct mm gauge_before, struct mm gauge_after);

struct bend_springback {
    double ratio;           /* R₀/Rf, radius in the tool over radius when let go; 0 … 1 */
    struct mm radius_after; /* Rf */
    const char *outside;    /* X ≥ ½: the sheet springs back flat; figures are NAN */
};
struct bend_springback bend_springback(struct mm radius, struct mm thickness, struct mpa yield,
                                       struct mpa modulus);

#endif
