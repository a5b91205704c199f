/* Where along the bead the broken face shows no fusion. Internal to app/. */
#ifndef APP_UNFUSED_H
#define APP_UNFUSED_H

#include "model/coupon.h"

struct unfused {
    double total_mm, longest_mm; /* 0 when there is none */
    double at_start_mm;          /* of the stretch that begins at the start of the bead */
};

/*
 * Flaws whose kind takes fusion away, overlapping and touching ones joined, cut to the bead where
 * its length is known. A stretch begins at the start when it does so within half a millimetre,
 * which is how close a rule is read. False when the face was not read.
 */
bool unfused_of(const struct coupon *c, struct unfused *out);

#endif
