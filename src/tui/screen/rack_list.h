/* The rack: the coupons of a trial as rows, found anew whenever the book or the filter changes. */
#ifndef TUI_SCREEN_RACK_LIST_H
#define TUI_SCREEN_RACK_LIST_H

#include <stdbool.h>

#include "base/id.h"
#include "model/coupon.h"
#include "model/trial.h"
#include "tui/widget/layers.h"
#include "tui/widget/list.h"

struct rack_row {
    char id[ID_SIZE];
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

/* Reads the coupons anew; the focus stays on the same mark. `trial`: another one, by name; NULL the
 * same as before, or the last. */
int rack_load(struct rack *r, const char *trial, struct error *e);
void rack_free(struct rack *r);
void rack_focus(struct rack *r, const char *mark);
const struct rack_row *rack_focused(const struct rack *r); /* NULL when empty */
void rack_draw(struct canvas *c, struct area body, const struct rack *r);

#endif
