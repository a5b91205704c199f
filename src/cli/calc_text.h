/*
 * Calculations and what they take, as pages.
 */
#ifndef CLI_CALC_TEXT_H
#define CLI_CALC_TEXT_H

#include "app/calc.h"
#include "app/page.h"

void calc_kinds_page(struct page *p);
void calc_kind_page(const struct calc_kind *kind,
                    struct page *p); /* arguments, formulas, sources */
void calc_answer_page(const struct calc_answer *a, struct page *p);

#endif
