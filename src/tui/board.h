/*
 * The board every screen is drawn on: what it is about on the first line, the keys that matter on
 * the second, the body, and below a rule two lines that explain: help for the focused field, an
 * answer, an error. Small terminals lose the rules first.
 */
#ifndef TUI_BOARD_H
#define TUI_BOARD_H

#include "tui/paint.h"

struct board {
    const char *title;
    const char *aside; /* right end of the first line; may be NULL */
    const char *keys;
    const char *caution; /* on the rule above the words; may be NULL */
    const char *words;   /* at the bottom; may be NULL */
    enum tone tone;      /* of the words */
};

enum { BOARD_LEAST_COLUMNS = 40, BOARD_LEAST_ROWS = 10 };

/* The body of a board on a terminal of this size. */
struct area board_body(int rows, int columns);
/* Draws all but the body and returns it. */
struct area board_draw(struct canvas *c, const struct board *b);

#endif
