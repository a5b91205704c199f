/*
 * One coupon as a form made from the tables of variables and parts: its state, its rows, and
 * setting what was written. The screen around it is in card.c.
 */
#ifndef TUI_SCREEN_CARD_FORM_H
#define TUI_SCREEN_CARD_FORM_H

#include <stdbool.h>

#include "app/differences.h"
#include "model/coupon.h"
#include "model/part.h"
#include "model/trial.h"
#include "tui/screen/part.h"
#include "tui/widget/form.h"
#include "tui/widget/form_edit.h"
#include "tui/widget/layers.h"

/* What a field of the form stands for. */
enum card_part {
    CARD_NOTHING,
    CARD_COUPON,   /* row of part_coupon_rows */
    CARD_VARIABLE, /* index in the session's variables */
    CARD_BEND,     /* row of part_bend_rows */
    CARD_FACE,     /* row of part_face_rows */
    CARD_NOTE,     /* row of part_note_rows */
    CARD_SAVE,
    CARD_ITEM,                    /* and the part_id of a pass, flaw or photograph; its index */
    CARD_ADD = CARD_ITEM + PARTS, /* and the part_id of what it adds */
};

struct card {
    struct ui *ui;
    struct trial trial;
    struct coupon coupon; /* as written here */
    struct coupon before; /* the one it is compared with, when has_before */
    bool has_before, is_new, changed;
    char offered[MARK_SIZE]; /* the mark a new coupon came with; "" when it is stored already */
    struct form form;
    struct part_screen *inside;     /* the pass or flaw that is open; NULL: none */
    bool fresh;                     /* it was made to be written in */
    struct differences differences; /* from `before` */
    char *differs;                  /* "Two things differ from 07: wire and travel speed" */
    char figures[512];              /* the live figures, in one line */
};

/* Takes ownership of `coupon`, which is left empty, and reads the coupon to compare it with. -1
 * with the error of the store when that fails; nothing needs closing and `coupon` is unchanged
 * then. */
int card_open(struct card *card, struct ui *ui, const struct trial *trial, struct coupon *coupon,
              struct error *e);
void card_close(struct card *card);
/* Makes the rows of the form from the coupon; call after every change of it. */
void card_fill(struct card *card);

extern const struct edit_owner card_edit; /* its owner is a struct card */
/* Removes the pass, flaw, photograph or value of the focused field. False when the field stands for
 * nothing that can be removed. */
bool card_remove(struct card *card);

#endif
