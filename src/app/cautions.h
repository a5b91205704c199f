/*
 * The cautions shown wherever the tool judges: screens, answers, sheets, README and manual take
 * their words from here.
 */
#ifndef APP_CAUTIONS_H
#define APP_CAUTIONS_H

#include "app/page.h"

/* What a ranking, card or figure is not. */
extern const char caution_scope[];
/* Fumes, rays, live wire, hot metal, flying pieces. */
extern const char caution_work[];
/* One line for a screen of 80 cells. */
extern const char caution_short[];

void cautions_add(struct page *p); /* scope and work, as BLOCK_CAUTION */

#endif
