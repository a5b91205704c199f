/*
 * Coupons from a table, by the variable table.
 *
 * A column is named by the key or label of a variable, by `key (unit)`, or by anything else, which
 * makes it a variable of the user's own: a number when every filled cell is one, else a category. A
 * unit in the header counts for bare numbers in that column; a known unit gives an own variable its
 * dimension, any other becomes the user's own unit; `name (category)` makes numbers names.
 *
 * Columns `mark`, `when`, `who`, `note` and `struck` (the reason) belong to the coupon itself, and
 * a first column without a name holds the marks; `trial` and `id` are left out. Columns of computed
 * variables are left out with a note, as are own columns without any filled cell.
 *
 * Results may say "135+", ">=135", ">135", "<=40", "<40", "40..60"; an empty cell is missing. In a
 * cause such cells are no numbers: they make an own column a category, with a note that it looks
 * like a result, and are rejected under a built-in number.
 */
#ifndef EXCHANGE_MAPPING_H
#define EXCHANGE_MAPPING_H

#include <stddef.h>

#include "base/error.h"
#include "exchange/csv_table.h"
#include "model/coupon.h"
#include "model/variable.h"

struct import_options {
    enum unit_system system;    /* of bare numbers in columns without a unit */
    const char *const *results; /* names of columns that are results */
    size_t result_count;
};

/* Why a row was not taken; a row may have several. */
struct reject {
    size_t line;
    char *column; /* header of the cell; NULL: the whole row */
    char *reason;
};

struct import {
    struct coupon_list coupons;     /* in order of the file; no id, trial or sequence. `mark` is
                                       NULL when the file gives none, when.utc_ms 0 likewise */
    size_t *lines;                  /* for each coupon the line of the file its row begins in */
    struct variable_list variables; /* those known before, then the file's own from `own_from` on */
    size_t own_from;
    struct reject *rejects;
    size_t reject_count, reject_capacity;
    size_t rows_rejected;
    struct import_note {
        char *text; /* one line, for standard error */
        bool makes; /* it says that a variable is new: only true once the coupons are stored */
    } * notes;
    size_t note_count, note_capacity;
};

/*
 * Rejected rows are no error: they are listed, and the others are in `coupons`. -1 with ERROR_INPUT
 * and `out` empty for what makes the whole file unusable: two columns of one name, a unit that does
 * not fit the variable, a result that is not there, no rows. Otherwise the caller frees `out` with
 * import_free().
 */
int import_table(const struct csv_table *table, const struct variable_list *known,
                 const struct import_options *options, struct import *out, struct error *e);
void import_free(struct import *i);

#endif
