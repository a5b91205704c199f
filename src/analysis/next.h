/* What to weld next: the coupons that would settle most, as a page and as JSON. */
#ifndef ANALYSIS_NEXT_H
#define ANALYSIS_NEXT_H

#include "analysis/trial_data.h"
#include "base/text.h"
#include "page/page.h"
#include "stats/design/plans.h"

struct next_answer {
    struct trial_data data;
    struct ranking ranking; /* when has_ranking */
    bool has_ranking;
    struct design design;
};

/* `count` coupons, 1 … 64 (ERROR_USAGE). Errors of trial_data_load() and design_next(); *out is
 * NULL then. The caller frees it with next_free(). */
int next_make(struct session *s, const struct trial_question *q, size_t count,
              struct next_answer **out, struct error *e);
void next_free(struct next_answer *a);                       /* NULL is fine */
void next_page(const struct next_answer *a, struct page *p); /* adds to the page */
char *next_json(const struct next_answer *a);                /* the caller frees it */

/* Adds what to change from which coupon, what that settles, and what to expect of it. `range` is
 * the span of results, base unit, that decides the decimals. */
void next_sentence(const struct frame *f, double range, const struct design_coupon *c,
                   struct text *out);

#endif
