/*
 * Coupons of a trial by screenfuls: their numbers, how many there are, and the coupons themselves,
 * each for a part of the set only, so that a large book is never read whole.
 *
 * Functions return 0 or what is said below, or -1 with the errors of store/db.h.
 */
#ifndef STORE_COUPON_SET_H
#define STORE_COUPON_SET_H

#include <stdbool.h>

#include "base/error.h"
#include "model/coupon.h"
#include "store/book.h"

struct coupon_set {
    const char *trial_id; /* NULL: of the whole book */
    bool with_struck;     /* those struck out as well */
};

/* A part of the set: numbers (`sequence`) from `first` to `last`, both included. */
struct coupon_span {
    long first, last;
};

/* The coupons of the part in the order of their numbers. `out` must be zeroed; the caller frees it
 * with coupon_list_free(). */
int coupon_set_load(struct book *book, const struct coupon_set *set, struct coupon_span span,
                    struct coupon_list *out, struct error *e);

/* Up to `most` numbers of the part, from its first on, or with `back` from its last on in falling
 * order. With letters (NULL: without) only coupons of which the mark, the welder, the note, the
 * reason of striking out, or a value as it is kept in words holds them; case is ignored in A to Z,
 * and % and _ stand for anything. Returns how many. */
int coupon_set_numbers(struct book *book, const struct coupon_set *set, struct coupon_span span,
                       const char *letters, bool back, int most, long *out, struct error *e);

/* Counts coupons of the part, from its first on, until there are `most`. Returns how many;
 * span->first is then the number behind the last one counted. Less than `most`: there are no more.
 */
int coupon_set_count(struct book *book, const struct coupon_set *set, struct coupon_span *span,
                     int most, struct error *e);

#endif
