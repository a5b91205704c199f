/*
 * The screens. Each is a function that returns when it is left; what it was left for is said in its
 * comment. Errors are told on the screen.
 */
#ifndef TUI_SCREENS_H
#define TUI_SCREENS_H

#include <stdbool.h>

#include "app/page.h"
#include "base/error.h"
#include "model/coupon.h"
#include "model/part.h"
#include "model/trial.h"
#include "tui/draft.h"
#include "tui/ui.h"

/* The coupons of a trial; the first screen. Returns when the program is to end. */
void screen_rack(struct ui *ui);
/* One coupon, which is taken over with what was being written. When the program has to end, what is
 * not saved is kept as a draft. */
void screen_card(struct ui *ui, const struct trial *trial, struct draft *draft);
/* One pass or flaw of the coupon: the rows of its table. True when something was written. */
bool screen_part(struct ui *ui, const char *title, struct coupon *c, const struct part_row *rows,
                 void *base);
/* The ranking of a trial, by name. */
void screen_ranking(struct ui *ui, const char *trial);
/* A page to read until Esc; it is taken over. `caution` (may be NULL) stands on the rule. */
void screen_page(struct ui *ui, const char *title, struct page *page, const char *caution);
/* What every key does at a place. */
void screen_keys(struct ui *ui, int place);
/* Switches between metric and inch, and says so. */
void switch_units(struct ui *ui);

#endif
