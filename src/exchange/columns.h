/* What each column of a table means: the first half of importing, done once a file. */
#ifndef EXCHANGE_COLUMNS_H
#define EXCHANGE_COLUMNS_H

#include "exchange/mapping.h"

enum column_use {
    COLUMN_LEFT_OUT,
    COLUMN_MARK, /* from here on those of the coupon itself, in the order of an exported table */
    COLUMN_WHEN,
    COLUMN_WHO,
    COLUMN_NOTE,
    COLUMN_STRUCK,
    COLUMN_VARIABLE,
};

/* A column of the coupon itself: its name, and the text (but for COLUMN_WHEN) in struct coupon. */
struct coupon_column {
    const char *name;
    size_t offset;
    size_t longest; /* characters that are read */
    bool lines;     /* may have line feeds and tabs */
};
extern const struct coupon_column coupon_columns[COLUMN_VARIABLE];

struct column_plan {
    enum column_use use;
    const char *name;        /* as in the header */
    size_t variable;         /* its index in import.variables */
    const struct unit *bare; /* of bare numbers; NULL: the unit of the system */
    bool words;              /* a known number of which no filled cell can be read */
    bool other_kind;         /* an own variable that this file has as the other kind */
    size_t unusual;          /* values that ask for a second look */
    char *question;          /* the first of them, with its line */
};

/*
 * Fills one plan for each column of the header and adds the file's own variables and the notes
 * about them to `out`, whose variables are set already. -1 with ERROR_INPUT when the header makes
 * the file unusable. The caller frees with columns_free(), also after an error.
 */
int columns_plan(const struct csv_table *table, const struct import_options *options,
                 struct import *out, struct column_plan **plans, struct error *e);
void columns_free(struct column_plan *plans, size_t count);

/* "1,200" in a file with points, "1.200" in one with commas: a thousand or a decimal? */
bool number_is_doubtful(const char *cell, bool decimal_comma);

/* Takes ownership of `note`. */
void import_note(struct import *i, char *note);

#endif
