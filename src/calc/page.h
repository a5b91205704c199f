/*
 * Calculations and what they take, as pages.
 */
#ifndef CALC_PAGE_H
#define CALC_PAGE_H

#include "calc/calc.h"
#include "page/page.h"

void calc_kinds_page(struct page *p);
void calc_kind_page(const struct calc_kind *kind,
                    struct page *p); /* arguments, formulas, sources */
void calc_answer_page(const struct calc_answer *a, struct page *p);

#endif
