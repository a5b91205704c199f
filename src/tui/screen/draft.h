/*
 * What is being written on the screens and not in the book yet, as the lines of a draft
 * (app/drafts.h) and back: a card, what is typed into one of its fields, answers to questions.
 */
#ifndef TUI_SCREEN_DRAFT_H
#define TUI_SCREEN_DRAFT_H

#include <stdbool.h>

#include "app/session.h"
#include "base/text.h"
#include "model/coupon.h"
#include "tui/widget/layers.h"

struct draft {
    struct coupon coupon;    /* its trial's id is in it; "": there is no card, only answers */
    bool kept;               /* it was left by a process that had to end */
    char offered[MARK_SIZE]; /* the mark a new coupon came with, chosen again at saving; "" none */
    char *writing;           /* the text of the field being edited; NULL none */
    int part;                /* of which field: card_part, */
    size_t index;            /* and which of several, */
    size_t row;              /* and which row of a pass or flaw */
    struct answer answers[MOST_ANSWERS];
};

/* Adds the lines of the card, and of what is typed; answers are added by their questions. */
void draft_write(const struct draft *d, struct text *accepted, struct text *typed);
/* Reads both, cutting `text` up; release `out` with draft_free(), the caller may have moved its
 * coupon elsewhere. Lines this program does not write are passed over: whoever had the book or the
 * file may have changed them. */
void draft_read(const struct variable_list *variables, char *text, struct draft *out);
void draft_free(struct draft *d);

#endif
