/*
 * Interactions: pairs of variables whose effect appears only, or differently, together (preheat
 * that matters on thick plate only). Screened after the main ranking.
 *
 * A pair is tested when both are numbers or have two levels, neither belongs to an exact alias set,
 * the product of their columns is not a combination of the single variables (rank test), two
 * coupons are left over beyond what that takes, and each of the four corners (low or high of the
 * one, low or high of the other) holds a coupon. For each such pair the product joins the ranking's
 * variables (those two and the INTERACTIONS_OTHERS likeliest others) and the subsets are averaged
 * again; it may be in only where both single variables are (strong heredity). The prior odds,
 * INTERACTIONS_PRIOR, are divided between the pairs tested, so that testing many does not find one
 * by luck. Rates of false alarms: tests/simulate.
 */
#ifndef STATS_RANK_INTERACTIONS_H
#define STATS_RANK_INTERACTIONS_H

#include <stddef.h>

#include "base/error.h"
#include "stats/data/frame.h"

struct ranking;

enum { INTERACTIONS_OTHERS = 6 };
/* Prior probability that any of the tested pairs interacts: with it, what is called clear or likely
 * is real at least as often as with single variables (tests/simulate). */
#define INTERACTIONS_PRIOR 0.8
#define INTERACTIONS_ALONE ((size_t)-1)

struct interaction {
    size_t a, b;   /* columns of the frame, a < b; the end that is "low" is the smaller
                      number or the first level */
    double chance; /* that they interact, 0 … 1 */
    double effect, low,
        high; /* effect of a at the high end of b less that at the low end of b, given
                 that they do; 90 %; result's unit. Low and high NAN below a hint */
    double a_at_low, a_at_high; /* effect of a at the low and at the high end of b */
    double b_at_low, b_at_high; /* effect of b at the low and at the high end of a */
    size_t corners[4];          /* coupons: both low, a high, b high, both high (numbers: cut at the
                                   middle of the tested range) */
    size_t same_as; /* place in `pairs` of a likelier pair whose product runs the same way, so
                       that the two cannot be told apart; else INTERACTIONS_ALONE */
};

struct interactions {
    struct interaction *pairs; /* largest chance first */
    size_t count;
    size_t possible; /* pairs of ranked variables; `count` of them could be tested */
};

/* Needs the ranking only. ERROR_ANSWER as model_average_make(); `out` is empty then. The caller
 * frees `out`. */
int interactions_screen(const struct ranking *r, struct interactions *out, struct error *e);
void interactions_free(struct interactions *c);

#endif
