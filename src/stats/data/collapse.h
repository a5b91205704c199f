/* Alike coupons as one row: fits cost time by row. */
#ifndef STATS_DATA_COLLAPSE_H
#define STATS_DATA_COLLAPSE_H

#include "stats/data/model_matrix.h"

/* Coupons with the same x and the same result (any exact one; else the same kind and limits) become
 * one row, its weight their number. `out` has no `rows`; the caller frees it. */
void collapse_rows(const struct model_matrix *c, struct model_matrix *out);
/* Distinct set-ups (rows of x). */
size_t collapse_set_ups(const struct model_matrix *c);

#endif
