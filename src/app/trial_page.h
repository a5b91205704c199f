/* A trial, its coupons, and all trials of the book, as pages. */
#ifndef APP_TRIAL_PAGE_H
#define APP_TRIAL_PAGE_H

#include <stdbool.h>

#include "app/session.h"
#include "base/error.h"
#include "model/trial.h"
#include "page/page.h"

/* What was asked, by what it is judged, its levels, and the strength its coupons show. */
void trial_page(struct session *s, const struct trial *t, struct page *p);

/* Its coupons with what changed from each to the next, and the result that decides. Fails as
 * task_trial_result() and task_coupons() do. */
int trial_page_coupons(struct session *s, const struct trial *t, bool with_struck, struct page *p,
                       struct error *e);

/* All trials of the book, with or without those struck out; fails as task_trials() does. */
int trial_page_all(struct session *s, bool with_struck, struct page *p, struct error *e);

#endif
