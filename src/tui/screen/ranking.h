/* The ranking of a trial. */
#ifndef TUI_SCREEN_RANKING_H
#define TUI_SCREEN_RANKING_H

#include "tui/widget/layers.h"

/* `trial` is its name. Returns when the user has left it. */
void screen_ranking(struct ui *ui, const char *trial);

#endif
