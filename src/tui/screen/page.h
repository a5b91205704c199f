/* A page to read (page/page.h). */
#ifndef TUI_SCREEN_PAGE_H
#define TUI_SCREEN_PAGE_H

#include "page/page.h"
#include "tui/widget/layers.h"

/* Takes ownership of `page`, which is left empty; returns when the user has left it. `caution`
 * (NULL: none) stands on the rule. */
void screen_page(struct ui *ui, const char *title, struct page *page, const char *caution);

#endif
