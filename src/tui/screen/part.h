/* One pass or flaw of a coupon, as a form. */
#ifndef TUI_SCREEN_PART_H
#define TUI_SCREEN_PART_H

#include "model/coupon.h"
#include "model/part.h"
#include "tui/widget/form.h"
#include "tui/widget/layers.h"

/* While the screen is shown the owner may look at it, for a draft. */
struct part_screen {
    struct ui *ui;
    const char *title;
    struct coupon *coupon;
    enum part_id id;
    size_t index;        /* the part is this one of the coupon's */
    size_t row;          /* that has the focus at the start */
    const char *writing; /* what was being typed there; NULL: nothing */
    struct form form;    /* the screen's own, as what follows */
    bool written;
};

/* The first six say what to show. Returns when the user has left it or the program has to end:
 * `written` when something was. */
void screen_part(struct part_screen *p);

#endif
