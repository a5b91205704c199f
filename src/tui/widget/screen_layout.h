/*
 * The layout every screen has: what it is about on the first line, the keys that matter on the
 * second, the body, and below a rule two lines that explain: help for the focused field, an answer,
 * an error. Small terminals lose the rules first.
 */
#ifndef TUI_WIDGET_SCREEN_LAYOUT_H
#define TUI_WIDGET_SCREEN_LAYOUT_H

#include "app/keys.h"
#include "tui/term/paint.h"

struct screen_layout {
    const char *title;
    const char *aside;        /* right end of the first line; NULL: none */
    enum key_context context; /* whose keys the second line names */
    const char *caution;      /* on the rule above the words; NULL: none */
    const char *words;        /* at the bottom; NULL: none */
    enum tone tone;           /* of the words */
};

/* Smaller terminals are told so instead (tui/ui.h). */
enum { SCREEN_MIN_COLUMNS = 40, SCREEN_MIN_ROWS = 10 };

/* The body on a terminal of this size; 0 rows when there is no space for one. */
struct area screen_layout_body(int rows, int columns);
/* Draws all but the body, which is left blank, and returns it. */
struct area screen_layout_draw(struct canvas *c, const struct screen_layout *l);

/* "Enter open · n new coupon · ? keys · q quit", as much as fits into `columns`; help and the way
 * out stay to the end. Caller frees. */
char *screen_layout_keys(enum key_context context, int columns);

#endif
