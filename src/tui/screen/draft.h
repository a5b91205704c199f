/*
 * A card that was being written when the program had to end. It is kept in the book, one a machine,
 * as lines of text, and offered again at the next start.
 */
#ifndef TUI_SCREEN_DRAFT_H
#define TUI_SCREEN_DRAFT_H

#include <stdbool.h>

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"

struct draft {
    struct coupon coupon;    /* its trial's id is in it */
    bool kept;               /* it comes from the book */
    char offered[MARK_SIZE]; /* the mark a new coupon came with, chosen again at saving; "" none */
    char *writing;           /* the text of the field being edited; NULL none */
    int part;                /* of which field: card_part, */
    size_t index;            /* and which of several */
};

/* Stores the draft in place of an earlier one. -1 with the error of the store. */
int draft_keep(struct session *s, const struct draft *d, struct error *e);
/* True when there is one. Release `out` with draft_free() in either case; the caller may have moved
 * its coupon elsewhere. */
bool draft_load(struct session *s, struct draft *out);
/* The text that is kept (the caller frees it), and reading it, which cuts `text` up. Lines this
 * program does not write are passed over: whoever had the book may have changed them. */
char *draft_write(const struct draft *d);
void draft_read(const struct variable_list *variables, char *text, struct draft *out);
/* Removes the stored draft, if there is one. */
void draft_forget(struct session *s);
void draft_free(struct draft *d);

#endif
