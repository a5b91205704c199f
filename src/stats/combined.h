/*
 * Combined effects: pairs of variables whose effect appears only, or differently, together (preheat
 * that matters on thick plate only). Screened after the main ranking.
 *
 * A pair is looked at when both are numbers or two-level, the product of their columns is not a
 * combination of the single variables (rank test), and each of the four corners (low or high of the
 * one, low or high of the other) holds at least one coupon. For each such pair the model with the
 * single variables is compared with the same model and the product, averaged over the subsets of
 * the single variables that hold both; odds before seeing the data are shared between all pairs
 * looked at, so that looking at many does not find one by luck. The scale of words is that of the
 * ranking. Figures on false alarms: tests/simulate.
 */
#ifndef STATS_COMBINED_H
#define STATS_COMBINED_H

#include <stddef.h>

#include "base/error.h"
#include "stats/frame.h"

struct ranking;

struct combined_pair {
    size_t a, b;   /* columns of the frame, a < b */
    double chance; /* that the product matters, 0 … 1 */
    double effect, low,
        high; /* effect of a at the high end of b less that at the low end of b; 90 % */
    double at_low, at_high;     /* effect of a at the low and at the high end of b */
    double b_at_low, b_at_high; /* effect of b at the low and at the high end of a */
    size_t corners[4];          /* coupons: both low, a high, b high, both high (numbers: cut at the
                                   middle of the tested range) */
};

struct combined {
    struct combined_pair *pairs; /* largest chance first */
    size_t count;
    size_t possible; /* pairs of ranked variables */
    size_t
        not_separable; /* of those, cannot be told from the single variables with these coupons */
};

int combined_screen(const struct frame *f, const struct ranking *r, struct combined *out,
                    struct error *e);
void combined_free(struct combined *c);

#endif
