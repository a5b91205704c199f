/*
 * Aliasing: sets of variables that cannot be told apart because they were always, or nearly always,
 * changed together.
 *
 * An exact set is a smallest dependent one ("circuit"): knowing all but one of its members tells
 * the last. Two members: always changed together. It is found by the rank of the columns
 * (Householder QR with column pivoting on centred columns of length 1, relative tolerance 1e-9).
 * Sets of three and more that exist only because there are fewer set-ups than columns are not
 * listed.
 *
 * A near set: R² of the columns of one variable on those of the others is at least 0.9, or the
 * largest canonical correlation of a pair is at least 0.8.
 */
#ifndef STATS_RANK_ALIASING_H
#define STATS_RANK_ALIASING_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/data/model_matrix.h"

struct alias_set {
    size_t *columns; /* of the frame, ascending; a near set has the predicted one first */
    size_t count;
    bool exact;       /* never separated by any coupon */
    bool partly;      /* exact for some levels only; the others can be told apart */
    double r_squared; /* near: of the first member on the others, 0 … 1; exact: 1 */
    size_t *rows;     /* frame rows. Exact: coupons away from the commonest combination of the
                         members. Near: the coupons in which they differ */
    size_t row_count;
    double chance; /* that at least one member matters; NAN before the ranking fills it in */
    double
        *separated_by; /* `count` values (numbers, level indexes), in the order of `columns`, of a
                    coupon that would tell them apart; NULL until design_separate() fills it in */
};

struct aliasing {
    struct alias_set *sets; /* exact ones first, smaller before larger */
    size_t count, capacity;
    bool short_of_coupons; /* fewer set-ups than columns: some sets of variables fit alike merely
                              for lack of coupons (not listed) */
};

enum { ALIASING_MAX_TESTS = 20000 }; /* the most sets tested, smaller ones first */

/* Fills `out`, which the caller frees; `c` is not collapsed. */
void aliasing_find(const struct model_matrix *c, struct aliasing *out);
void aliasing_free(struct aliasing *s);
/* True when an exact set holds both columns (which may be the same one). */
bool aliasing_pair(const struct aliasing *s, size_t column_a, size_t column_b);

#endif
