/* Striking out and taking back, as coupons and trials have it in common. */
#ifndef STORE_STRUCK_H
#define STORE_STRUCK_H

#include "base/clock.h"
#include "base/error.h"
#include "store/book.h"
#include "store/query.h"

/* ERROR_INPUT when the reason (NULL or blank) is none; `what` is what it is for: "coupon". */
int struck_needs_reason(const char *what, const char *why, struct error *e);

/* Begins setting the rows of a table that meet `where` (with one value :key) as struck out, or,
 * with no reason (NULL), as in use; their revision goes up. The caller runs it. */
struct query *struck_begin(struct book *book, const char *table, const char *where, int64_t key,
                           const char *why, struct instant when, struct error *e);

#endif
