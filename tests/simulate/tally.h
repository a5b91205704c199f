/* What is counted over the simulated trials. Only doubles, so that the tallies of several processes
 * add up place by place. */
#ifndef TESTS_SIMULATE_TALLY_H
#define TESTS_SIMULATE_TALLY_H

#include <stdbool.h>
#include <stddef.h>

#include "rivals.h"
#include "scene.h"
#include "stats/rank/ranking.h"

enum { TALLY_BINS = 10, TALLY_WORDS = 4, PAIRS_SIZES = 4 };
enum { FURTHER_WAYS = 4, FURTHER_STEPS = 3 };

struct tally {
    double trials, skipped, refused;
    /* Trials with a driver: how many, how often the larger came first, first or second. */
    double ranked[SCENE_SIZES][SCENE_KINDS][SCENE_HELD];
    double first[RIVALS][SCENE_SIZES][SCENE_KINDS][SCENE_HELD];
    double second[RIVALS][SCENE_SIZES][SCENE_KINDS][SCENE_HELD];
    /* Variables by their chance, and how many of them were drivers. */
    double bin[TALLY_BINS], bin_true[TALLY_BINS];
    double word[TALLY_WORDS], word_true[TALLY_WORDS];
    /* Intervals of drivers, and how many covered the effect. */
    double interval[SCENE_SIZES][SCENE_HELD], covered[SCENE_SIZES][SCENE_HELD];
    /* Trials without a driver: the largest chance reached "clear", "likely". */
    double empty[SCENE_SIZES][SCENE_HELD], clear[SCENE_SIZES][SCENE_HELD],
        likely[SCENE_SIZES][SCENE_HELD];
    /* Pairs of variables looked at for a combined effect; trials in which one was called clear,
     * likely; trials looked at. No simulated trial has a combined effect. */
    double pairs, pair_trials, pair_clear, pair_likely;
    /* Trials with a combined effect among them (pairs.c): pairs by word, and how many were real;
     * the larger real ones by coupons, and how many were called likely or clear. */
    double pair_word[TALLY_WORDS], pair_word_true[TALLY_WORDS];
    double pair_real[PAIRS_SIZES], pair_seen[PAIRS_SIZES];
    /* Trials in which further coupons were chosen (further.c); how often the driver came first
     * before and after one, two, three of them. */
    double further, further_right[FURTHER_WAYS][FURTHER_STEPS + 1];
    /* Odd coupons, of which there are none; and the larger driver first, by steadiness. */
    double odd_trials, odd_called, steady, steady_right, steady_driven, unsteady_right,
        unsteady_driven;
};

void tally_add(struct tally *t, const struct scene *s, const struct ranking *r);
/* Combined effects and odd coupons, which take the ranking many times over. */
void tally_add_closely(struct tally *t, const struct scene *s, const struct ranking *r);
void tally_merge(struct tally *to, const struct tally *from);

#endif
