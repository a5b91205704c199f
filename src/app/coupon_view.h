/*
 * The coupons of a trial as somebody looks at them: in the order of their numbers, all of them or
 * only those that hold some letters, however many there are. Nothing is read but what is asked for;
 * counting them and looking for letters goes on in slices, for as long as the caller has nothing
 * better to do.
 *
 * The letters are looked for from one coupon outwards to both sides, so that what is near it is
 * found first. Longer letters are looked for only among what held the shorter ones.
 */
#ifndef APP_COUPON_VIEW_H
#define APP_COUPON_VIEW_H

#include <limits.h>
#include <stdbool.h>
#include <stddef.h>

#include "app/session.h"
#include "base/error.h"
#include "store/coupon_set.h"

/* Numbers of coupons (`sequence`) lie between these; so does where a look begins. */
#define COUPON_FIRST 1L
#define COUPON_LAST (LONG_MAX - 1)

struct number_list {
    long *items;
    size_t count, capacity;
};

struct view_side {
    struct number_list found; /* nearest first */
    long next;                /* the next number to look at */
    bool done;
};

struct coupon_view {
    struct session *session;
    struct coupon_set set;
    const struct variable *result; /* what the trial is judged by, as shown in the rows */
    size_t total; /* coupons counted so far, whether they hold the letters or not */
    struct coupon_span uncounted;
    bool counted; /* all of them */

    char *letters;             /* NULL: all coupons */
    bool as_written;           /* they can only be in what is kept as it was written */
    struct view_side sides[2]; /* from where the look began on; and before it */
    struct number_list known;  /* in this span no others can hold the letters */
    struct coupon_span known_span;
};

/* Looks at other coupons, or at the same ones after the book has changed. The letters stay. A
 * zeroed view has none. Without a result (NULL) there is nothing to look at. The caller keeps what
 * `set` and `result` point to. */
void coupon_view_begin(struct coupon_view *v, struct session *s, struct coupon_set set,
                       const struct variable *result, long from);
void coupon_view_free(struct coupon_view *v);

/* Only coupons that hold these letters (list_row_holds()), beginning at the coupon `from`, whether
 * there is one of this number or not; NULL: all coupons. The letters are copied. */
void coupon_view_find(struct coupon_view *v, const char *letters, long from);

/* Counts and looks on for about so many milliseconds, at least a little. 1 when there is more to
 * do, 0 when all is done; -1 with the error of the store, and nothing more is done then. */
int coupon_view_work(struct coupon_view *v, int ms, struct error *e);

/* Up to `most` numbers, as far as they are found yet: from number `from` (itself included) on, or
 * with `back` from it backwards. Returns how many, -1 with the error of the store. */
int coupon_view_numbers(struct coupon_view *v, long from, bool back, int most, long *out,
                        struct error *e);

size_t coupon_view_found(const struct coupon_view *v);  /* that hold the letters, so far */
bool coupon_view_searched(const struct coupon_view *v); /* there are no others */
bool coupon_view_done(const struct coupon_view *v);     /* and all are counted */

#endif
