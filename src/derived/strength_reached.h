/*
 * The weld strength a shop's own tee coupons show, from those that held and those that broke
 * (weld/hinge.h, interval arithmetic).
 *
 * A coupon counts when it is a tee with leg and thickness and was folded: held gives at least;
 * broke and tore give at most. With peak load, lever and bead length its measured moment takes the
 * place of the plate's. ± taken [common]: thickness 0.1 mm, leg 0.5 mm, plate yield 20 % above or
 * below the grade's minimum (250 MPa when the grade is not known).
 */
#ifndef DERIVED_STRENGTH_REACHED_H
#define DERIVED_STRENGTH_REACHED_H

#include "model/coupon.h"
#include "model/units.h"
#include "weld/hinge.h"

/*
 * MPa, by the start of the name; NAN when it is not known. Minimum yield of EN 10025-2 (up to 16
 * mm) and ASTM A36; minimum tensile strength of weld metal by AWS A5.18, A5.20 and EN ISO 14341.
 * [mem]
 */
double strength_yield_of(const char *base_metal);
double strength_weld_of(const char *wire_class);

struct hinge_fit strength_reached(const struct coupon_list *coupons);
/* One sentence, "" when no coupon counts: "4 held and 2 broken tee coupons: the weld reaches at
 * least 212 MPa and at most 640 MPa on its measured throat." */
void strength_sentence(char *out, size_t size, const struct hinge_fit *fit, enum unit_system units);

#endif
