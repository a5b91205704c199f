/*
 * What cannot be told apart: sets of variables that were always, or nearly always, changed
 * together.
 *
 * An exact set is a smallest one ("circuit"): knowing all but one of its members tells the last.
 * Two members: always changed together. It is found by the rank of the coded columns (Householder
 * QR with column pivoting on centred columns of length 1, relative tolerance 1e-9). Sets of three
 * and more that exist only because there are fewer set-ups than coded columns are not listed.
 *
 * Near: share is R² of the coded columns of one variable on those of the others; a pair is near
 * when its largest canonical correlation is at least 0.8.
 */
#ifndef STATS_INSEPARABLE_H
#define STATS_INSEPARABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "stats/coded.h"

struct alias_set {
    size_t *columns; /* frame columns, ascending; a near tie has the predicted one first */
    size_t count;
    bool exact;       /* never separated by any coupon */
    bool partly;      /* exact for some levels only: the others can be told apart */
    double r_squared; /* near ties: part (0 … 1) of the first one's changes that the others
                     foretell; exact ones: 1 */
    size_t *rows;     /* frame rows. Exact: coupons away from the commonest combination of the
                         members. Near: the coupons in which they differ */
    size_t row_count;
    double chance; /* that at least one member matters; NAN before the ranking fills it in */
    double
        *separated_by; /* `count` values (numbers, level indexes), in the order of `columns`, of a
                    coupon that would tell them apart; NULL until next-coupon design fills it */
};

struct aliasing {
    struct alias_set *sets; /* exact ones first, smaller before larger */
    size_t count, capacity;
    bool short_of_coupons; /* see above: dependent merely for lack of set-ups */
};

enum { ALIASING_MAX_TESTS = 20000 }; /* sets tested at most, smaller ones first */

/* Finds exact sets and near ties (share ≥ 0.9, or a pair correlated ≥ 0.8) of a coded frame. */
void aliasing_find(const struct model_matrix *c, struct aliasing *out);
void aliasing_free(struct aliasing *s);
/* True when an exact set holds both columns. */
bool aliasing_pair(const struct aliasing *s, size_t column_a, size_t column_b);

#endif
