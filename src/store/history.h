/* What a change replaces is kept: the whole earlier state, as JSON. Errors as in store/db.h. */
#ifndef STORE_HISTORY_H
#define STORE_HISTORY_H

#include "base/error.h"
#include "store/book.h"

enum history_kind { HISTORY_COUPON, HISTORY_TRIAL, HISTORY_VARIABLE, HISTORY_SETTING };

/* Before a change, inside its transaction; `id` is the row's id or key. Does nothing when there is
 * no such row yet. */
int history_keep(struct book *book, enum history_kind kind, const char *id, struct error *e);

#endif
