/* What chosen coupons would settle, as data for sentences. */
#ifndef STATS_DESIGN_EXPLAIN_H
#define STATS_DESIGN_EXPLAIN_H

#include "stats/design/criterion.h"
#include "stats/rank/aliasing.h"

/* Columns of the frame that belong together in a sentence. */
struct design_set {
    size_t *columns;
    size_t count;
    bool exact; /* could not be told apart at all; false: hardly */
};

/* How much narrower the effect of a column becomes. */
struct design_gain {
    size_t column;
    double before, after; /* standard deviation of its effect, result's unit; without results in
                             units of the scatter */
};

struct design_coupon {
    double *values;     /* one a column of the frame: number or index of level; NAN: not known */
    size_t like;        /* welded row that differs least; SIZE_MAX: none welded */
    size_t like_chosen; /* or the earlier of the chosen that differs less; SIZE_MAX: none */
    size_t *changed;    /* columns that differ from that coupon */
    size_t changed_count;
    bool repeat;                  /* the same set-up as a welded coupon: sharpens the scatter */
    struct design_set *separates; /* sets that could not be told apart before and can with it; a set
                                     of one column: never changed before */
    size_t separate_count;
    struct design_gain *gains; /* one a column with a choice, largest relative fall first */
    size_t gain_count;         /* at least 1 */
    double expected;           /* result expected, result's unit; NAN without results */
    double chance_held; /* that it is held to the stop, 0 … 1; NAN without results or stop */
    double score;       /* criterion_value() */
};

/* The coupons explained so far; each together with the welded ones and those before it. */
struct explanation {
    const struct candidates *candidates;
    struct criterion *criterion;
    struct frame f;        /* the coupons so far, one column a group */
    struct aliasing found; /* among them */
};

/* The criterion holds the welded coupons only. Both pointers must stay until explain_end(). */
void explain_begin(const struct candidates *s, struct criterion *criterion,
                   struct explanation *out);
/* Explains values[at] (one number a group; those before `at` were explained already) and adds it to
 * the criterion. The caller frees `out`. */
void explain_coupon(struct explanation *e, const double *values, size_t at,
                    struct design_coupon *out);
void explain_end(struct explanation *e);
void design_coupon_free(struct design_coupon *c);

#endif
