/* One coupon on the screen: the form of tui/card.h and what can be done with it. */
#ifndef TUI_SCREEN_CARD_H
#define TUI_SCREEN_CARD_H

#include "model/trial.h"
#include "tui/screen/draft.h"
#include "tui/widget/layers.h"

/* Takes ownership of the coupon of the draft. Returns when the user has left it; when the program
 * has to end, what is not saved is kept as a draft in the book. Returns the number of the coupon in
 * the book, 0 when it is not in it. */
long screen_card(struct ui *ui, const struct trial *trial, struct draft *draft);

#endif
