/* The rack: the coupons of a trial as rows, read again whenever the book or the filter changes. */
#ifndef TUI_SCREEN_RACK_LIST_H
#define TUI_SCREEN_RACK_LIST_H

#include <stdbool.h>

#include "base/id.h"
#include "model/coupon.h"
#include "model/trial.h"
#include "tui/widget/layers.h"
#include "tui/widget/list.h"

struct rack_row {
    long number; /* of the coupon in the book */
    char *mark, *when, *changed, *result;
    bool struck;
};

struct rack {
    struct ui *ui;
    struct trial trial;
    bool has_trial;
    bool with_struck;
    char *filter; /* only rows that hold these letters; NULL all */
    size_t total; /* coupons, whether shown or not */
    struct rack_row *rows;
    size_t row_capacity;
    const char *result_label; /* of the session */
    struct list list;
    long seen; /* change counter of the book when it was read */
};

/* Reads the coupons; the focus stays on the same mark. `trial` is a name; NULL: the trial shown
 * before, else the one logged into last. An empty book has no trial and no rows. -1 with the error
 * of the store when the book cannot be read, ERROR_INPUT for an unknown name; the rows are
 * those shown before then. */
int rack_load(struct rack *r, const char *trial, struct error *e);
void rack_free(struct rack *r);
/* Puts the focus on the coupon with this mark; stays where it is when none has it (or for NULL). */
void rack_focus(struct rack *r, const char *mark);
/* NULL when there are no rows. Valid until the next rack_load(). */
const struct rack_row *rack_focused(const struct rack *r);
void rack_draw(struct canvas *c, struct area body, const struct rack *r);

#endif
