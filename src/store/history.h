/* What a change replaces is kept: the whole earlier state of a row, as JSON. */
#ifndef STORE_HISTORY_H
#define STORE_HISTORY_H

#include "base/error.h"
#include "store/db.h"

/* Before a change, inside its transaction. `kind` is "coupon", "trial", "variable" or "setting",
 * `id` the row's id or key. */
int history_keep(struct book *book, const char *kind, const char *id, struct error *e);

#endif
