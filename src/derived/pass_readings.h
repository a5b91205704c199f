/* What is known of one pass: its own readings, else the coupon's set-up. Internal to app/. */
#ifndef DERIVED_PASS_READINGS_H
#define DERIVED_PASS_READINGS_H

#include "model/coupon.h"

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
