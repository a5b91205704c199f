/* One coupon on the screen: the form of tui/card.h and what can be done with it. */
#ifndef TUI_SCREEN_CARD_H
#define TUI_SCREEN_CARD_H

#include "model/trial.h"
#include "tui/screen/draft.h"
#include "tui/widget/layers.h"

/* Takes ownership of the coupon of the draft. Returns when the user has left it or the program has
 * to end: the number of the coupon in the book, 0 when it is not in it, -1 when it could not be
 * shown, with the reason said. A draft that was taken is this process's from then on. */
long screen_card(struct ui *ui, const struct trial *trial, struct draft *draft);

#endif
