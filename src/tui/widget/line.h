/*
 * The line editor: one line of UTF-8 with a cursor. The cursor stands between characters; a
 * character goes together with the combining marks behind it.
 */
#ifndef TUI_WIDGET_LINE_H
#define TUI_WIDGET_LINE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "tui/term/key.h"
#include "tui/term/paint.h"

enum { LINE_MAX_BYTES = 4000 }; /* bytes; more is not taken */

struct line {
    struct text text;
    size_t at; /* byte the cursor stands before */
};

/* Starts with `text` (NULL: empty), the cursor behind it. Release with line_free(). */
void line_start(struct line *l, const char *text);
void line_free(struct line *l);
const char *line_text(const struct line *l);
/* A character, a paste, a move or a deletion; other keys mean nothing to a line. */
void line_key(struct line *l, struct key k);
/* Paints the part around the cursor and parks the cursor there. */
void line_draw(struct canvas *c, int y, int x, int columns, const struct line *l);

#endif
