/* The page that says what every key does on a screen. */
#ifndef TUI_SCREEN_KEYS_H
#define TUI_SCREEN_KEYS_H

#include "app/keys.h"
#include "tui/widget/layers.h"

/* Returns when the user has left it. */
void screen_keys(struct ui *ui, enum key_context context);

#endif
