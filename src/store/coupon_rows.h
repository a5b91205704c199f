/*
 * A coupon and its rows in the other tables:
 *
 *     coupon ─┬─ value   one a variable          ─┬─ face ── flaw   any number
 *             ├─ pass    numbered from 1          └─ photo          any number
 *             └─ bend    one or none
 */
#ifndef STORE_COUPON_ROWS_H
#define STORE_COUPON_ROWS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/error.h"
#include "model/coupon.h"
#include "model/part.h"
#include "store/book.h"
#include "store/query.h"

struct query;

/* The entry that goes without saying (schema, table value): the number in its unit (NULL: none). */
void coupon_plain_entry(char out[ENTRY_SIZE], double number, const char *unit);

/* A condition on the coupons `c` of a statement, and the values in it: all of them must be there.
 */
struct coupon_where {
    const char *sql;
    int64_t key, first, last; /* :key, and numbers :first to :last */
    bool figures;             /* as coupons_load_figures() */
};
/* Begins `sql`, which is freed, with these values. */
struct query *coupon_where_query(struct book *book, char *sql, const struct coupon_where *where,
                                 struct error *e);
/* Coupons that meet it, in order of sequence. What was read before an error is in `out` as well. */
int coupon_rows_read(struct book *book, const struct coupon_where *where, struct coupon_list *out,
                     struct error *e);

/* The row of the table coupon the query came to, with the id of its trial as `trial`; then a row of
 * a part, or for PARTS a value: ERROR_INPUT if it holds what this program never writes. */
void coupon_take_head(struct query *q, struct coupon *c);
int coupon_take_row(struct book *book, struct query *q, enum part_id id, struct coupon *c,
                    struct error *e);

/* Everything but the row of the table coupon itself, for the coupon with this number. */
int coupon_rows_write(struct book *book, const struct coupon *c, int64_t id, struct error *e);
int coupon_rows_clear(struct book *book, int64_t id, struct error *e);

#endif
