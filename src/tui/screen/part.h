/* One pass or flaw of a coupon, as a form. */
#ifndef TUI_SCREEN_PART_H
#define TUI_SCREEN_PART_H

#include "model/coupon.h"
#include "model/part.h"
#include "tui/widget/layers.h"

/* The `index`-th of these parts of the coupon. Returns when the user has left it or the program has
 * to end: true when something was written. */
bool screen_part(struct ui *ui, const char *title, struct coupon *c, enum part_id id, size_t index);

#endif
