/*
 * Reading a page (page/page.h) on the screen: a cursor goes line by line, so that a screen reader
 * reads along; a line that leads somewhere can be opened.
 */
#ifndef TUI_WIDGET_PAGE_VIEW_H
#define TUI_WIDGET_PAGE_VIEW_H

#include "page/page.h"
#include "tui/widget/list.h"

struct view {
    struct page page;
    struct list list; /* over the lines of the page */
};

/* Takes ownership of `page`, which is left empty. The cursor keeps its line number, as far as the
 * new page has as many lines. */
void view_set(struct view *v, struct page *page);
void view_free(struct view *v);
/* Moves the cursor, when the key is one for reading. */
void view_key(struct view *v, struct key k, struct area body);
/* What the line under the cursor leads to; NULL: nothing. Valid until the page changes. */
const char *view_target(const struct view *v, struct area body);
void view_draw(struct canvas *c, struct area body, const struct view *v);

#endif
