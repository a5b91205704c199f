/* The first screen: the coupons of a trial. */
#ifndef TUI_SCREEN_RACK_H
#define TUI_SCREEN_RACK_H

#include "tui/widget/layers.h"

/* Returns when the program is to end. */
void screen_rack(struct ui *ui);

#endif
