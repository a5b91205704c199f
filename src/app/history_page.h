/* The changes of the book or of a coupon, as a page and as JSON. */
#ifndef APP_HISTORY_PAGE_H
#define APP_HISTORY_PAGE_H

#include "app/task_history.h"
#include "page/page.h"

/* Both fail where the states of a coupon cannot be read. */
int history_page(struct session *s, const struct history *history, struct page *p, struct error *e);
/* The caller frees *out. Its form is described in coldlap(5). */
int history_json(struct session *s, const struct history *history, char **out, struct error *e);

#endif
