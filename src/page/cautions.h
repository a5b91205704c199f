/*
 * The cautions shown wherever the tool judges: screens, answers, sheets, help and manual take their
 * words from here; the README repeats the list, and a test holds it to this one.
 */
#ifndef PAGE_CAUTIONS_H
#define PAGE_CAUTIONS_H

#include "page/page.h"

/* What a ranking, card or figure is not. */
extern const char caution_scope[];
/* The list below in a few lines, for a page that says something else first. */
extern const char caution_work[];
/* One line for a screen of 80 cells. */
extern const char caution_short[];

/* What hurts at the bench, one row a danger; the last has no words. */
struct caution {
    const char *about, *text;
};
extern const struct caution caution_list[];

void cautions_add(struct page *p);     /* scope and work, as BLOCK_CAUTION */
void cautions_add_all(struct page *p); /* the whole list and the scope, under a heading */

#endif
