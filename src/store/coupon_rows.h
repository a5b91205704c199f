/*
 * A coupon and its rows in the other tables:
 *
 *     coupon ─┬─ value   one a variable          ─┬─ face ── flaw   any number
 *             ├─ pass    numbered from 1          └─ photo          any number
 *             └─ bend    one or none
 */
#ifndef STORE_COUPON_ROWS_H
#define STORE_COUPON_ROWS_H

#include "base/error.h"
#include "model/coupon.h"
#include "model/part.h"
#include "store/book.h"

/* Coupons meeting `where`, an SQL condition on the coupon `c` and one value `:key` (NULL: it has
 * none), in order of sequence. What was read before an error is in `out` as well. */
int coupon_rows_read(struct book *book, const char *where, const char *key, struct coupon_list *out,
                     struct error *e);

/* Everything but the row of the table coupon itself, for the coupon with this id. */
int coupon_rows_write(struct book *book, const struct coupon *c, const char *id, struct error *e);
int coupon_rows_clear(struct book *book, const char *id, struct error *e);

#endif
