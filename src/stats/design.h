/*
 * What to weld next: the coupons, out of every combination of the levels at hand, whose results
 * would settle most. Coupons already welded are fixed.
 *
 * With results: one coupon at a time, the largest
 *     I(x) · sum_j max(chance_j, 0.02) G_j² / (1 + I(x) x'G),    G = M⁻¹ x,
 *     M = sum_i I_i x_i x_i' + diag(1e-6, 1/tau_j²),
 * the fall in the variance of the effects weighted with the chance that they matter, where I(x) is
 * the information of a coupon that may be held to the stop, relative to one that breaks
 * (statistics.md B2). After each choice M is updated as if it were welded. Without results: the
 * largest log det M (Bayesian D), by exchange with seeded starts when more than one is asked for.
 * Equal scores go to the coupon with the fewest changes from one already welded (where these are
 * not more than 2000 different set-ups).
 *
 * Up to DESIGN_ALL combinations are all tried. Beyond, the search climbs by changing one variable
 * at a time from many starts: 64 welded set-ups, 4 of the chosen ones, and seeded random ones.
 */
#ifndef STATS_DESIGN_H
#define STATS_DESIGN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/error.h"
#include "stats/frame.h"
#include "stats/inseparable.h"

enum { DESIGN_ALL = 20000, DESIGN_STARTS = 24 };

/* Levels at hand of one column. A category may name levels that no coupon has had yet: their
 * indexes go on from level_count of the column. */
struct design_levels {
    double *values; /* numbers, or indexes of levels; no two alike */
    size_t count;   /* 0: the default: tested ends of a number and the tested value nearest to the
                             middle, seen levels of a category */
};

struct design_request {
    const struct design_levels *levels; /* one a column of the frame; NULL: all default */
    const double *chance;               /* one a column, from the ranking; NULL: no results yet */
    double stop;  /* angle at which folding ends, result's unit; NAN: nothing is held */
    size_t count; /* coupons wanted, 1 … 64 */
    uint64_t seed;
    size_t all; /* 0: DESIGN_ALL; fewer: search earlier (to check the search) */
};

/* Columns of the frame that belong together for what is said about them. */
struct design_set {
    size_t *columns;
    size_t count;
    bool exact; /* could not be told apart at all; false: hardly */
};

/* How much narrower the effect of a column becomes. */
struct design_gain {
    size_t column;
    double before, after; /* standard deviation of its effect, result's unit (scatter-scaled when
                             there are no results: then in units of the scatter) */
};

struct design_coupon {
    double *values;     /* one a column of the frame: number or index of level */
    size_t like;        /* welded row that differs least; SIZE_MAX: none welded */
    size_t like_chosen; /* or the earlier of the chosen that differs less; SIZE_MAX: none */
    size_t *changed;    /* columns that differ from that coupon */
    size_t changed_count;
    bool repeat;                  /* the same set-up as a welded coupon: sharpens the scatter */
    struct design_set *separates; /* sets that could not be told apart before and can with it; a set
                                     of one column: never changed before */
    size_t separate_count;
    struct design_gain *gains; /* one a column, largest relative fall first */
    size_t gain_count;
    double expected;    /* result expected, NAN without results */
    double chance_held; /* that it is held to the stop; NAN without results or stop */
    double score;
};

struct design {
    struct design_coupon *coupons;
    size_t count;
    bool from_results;   /* weighted by chance; else the most even plan */
    bool all_tried;      /* every combination was; else a search */
    double combinations; /* of the levels at hand */
    double log_det_gain; /* log det M after all of them less log det M before */
};

/* Refuses (ERROR_ANSWER) when no column has two levels at hand. */
int design_next(const struct frame *f, const struct design_request *request, struct design *out,
                struct error *e);

/*
 * The one coupon that would tell the given columns apart (a tie as inseparable.h lists them): like
 * a coupon already welded but for one change in one of these columns; of all such the one that
 * narrows their effects most. Refuses when no such change at hand would separate them.
 */
int design_separate(const struct frame *f, const struct design_request *request,
                    const size_t *columns, size_t column_count, struct design_coupon *out,
                    struct error *e);
/* The same for every tie of a ranking: fills in `breaks` where there is such a coupon. */
void design_separate_all(const struct frame *f, const struct design_request *request,
                         struct aliasing *ties);

void design_free(struct design *d);
void design_coupon_free(struct design_coupon *c);

#endif
