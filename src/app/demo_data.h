/*
 * What the invented coupons of the demo were made of. Internal to app/.
 *
 * The scene: benches for a greenhouse from flat bar, gas-shielded solid wire. First lap joints in
 * 4 mm, then tee joints in 6 mm. The figures hang together as they would in a shop: 60 mm of bead
 * at about 300 mm/min is 12 s of arc; 1 mm wire at 7 m/min takes some 165 A, at 8.5 m/min some
 * 190 A; the pull that folds 60 mm of 6 mm bar over a lever of 400 mm is near 340 N.
 */
#ifndef APP_DEMO_DATA_H
#define APP_DEMO_DATA_H

#include <stddef.h>

/* A value as it would be typed, for a variable of the table. */
struct demo_value {
    const char *key, *text; /* NULL key ends a list */
};

struct demo_trial {
    const char *name, *question, *note;
    double stop_deg, before_deg;     /* included angle before folding */
    const char *const *levels;       /* variable, level, level, NULL for each; NULL ends */
    const struct demo_value *common; /* what no coupon of the trial changed */
    const char *const *columns;      /* variables of demo_coupon.values, in order; NULL ends */
};

enum { DEMO_VALUES = 6, DEMO_PASSES = 2, DEMO_FLAWS = 3 };

struct demo_flaw {
    double from_mm, to_mm;
    int iso6520; /* 0 ends */
};

struct demo_coupon {
    int trial; /* index into demo_trials */
    const char *mark, *when;
    const char *values[DEMO_VALUES];
    struct {
        double arc_s, amps; /* arc_s 0: no such pass */
    } passes[DEMO_PASSES];
    const char *ended; /* bend_end_code() */
    double after_deg;  /* included angle after folding; with the stop reached, that of the stop */
    double load_n;     /* highest pull at the spring scale, over the lever of 400 mm */
    struct demo_flaw flaws[DEMO_FLAWS]; /* of the broken face; held coupons have none */
    const char *note;
};

extern const struct demo_trial demo_trials[];
extern const size_t demo_trial_count;
extern const struct demo_coupon demo_coupons[];
extern const size_t demo_coupon_count;

#endif
