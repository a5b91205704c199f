/*
 * A list that scrolls: which row has the focus and which is the first to be seen. What a row says
 * is the owner's affair; it draws each visible row when asked.
 */
#ifndef TUI_WIDGET_LIST_H
#define TUI_WIDGET_LIST_H

#include <stdbool.h>
#include <stddef.h>

#include "tui/term/key.h"
#include "tui/term/paint.h"

struct list {
    size_t count;
    size_t focus; /* < count, or 0 when empty */
    size_t top;
};

/* Says how many rows there are now; keeps the focus inside. */
void list_resize(struct list *l, size_t count);
void list_focus(struct list *l, size_t at, int rows);
/* Moves by a key; true when it was one for a list. `rows`: how many are visible. */
bool list_key(struct list *l, struct key k, int rows);
/* The first row to show on `rows` lines so that the focus is seen. */
size_t list_top(const struct list *l, int rows);

/* Paints row `at` into its line; `focused` rows are painted in TONE_FOCUS by the owner. */
typedef void list_row_painter(struct canvas *c, struct area row, const void *owner, size_t at,
                              bool focused);
/* Paints the rows with a '>' before the focused one, parks the cursor there, and says on the right
 * edge when there is more above or below. */
void list_draw(struct canvas *c, struct area a, const struct list *l, list_row_painter *paint_row,
               const void *owner);

#endif
