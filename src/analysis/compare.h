/* Two levels of one variable, or two groups of coupons, side by side. */
#ifndef ANALYSIS_COMPARE_H
#define ANALYSIS_COMPARE_H

#include "analysis/trial_data.h"
#include "page/page.h"
#include "stats/compare/compare.h"

#define COMPARE_MARKS ((size_t)-1)

struct compare_answer {
    struct trial_data data;
    size_t column; /* of the frame; COMPARE_MARKS: two groups of coupons, no variable */
    struct comparison_list list;
};

/* NULL levels: the two with most coupons, or every pair worth showing (compare_variable()).
 * ERROR_USAGE when there is no such variable or level, ERROR_ANSWER when no coupon has a value for
 * it, errors of trial_data_load() and stats/compare.h; *out is NULL then. The caller frees it with
 * compare_free(). */
int compare_make(struct session *s, const struct trial_question *q, const char *variable,
                 const char *level_a, const char *level_b, struct compare_answer **out,
                 struct error *e);
/* Two groups of coupons, named by their marks with commas between: "01,02" against "03".
 * ERROR_INPUT when a coupon does not count in this trial, ERROR_USAGE when none is named or one is
 * in both groups. */
int compare_marks(struct session *s, const struct trial_question *q, const char *marks_a,
                  const char *marks_b, struct compare_answer **out, struct error *e);
void compare_free(struct compare_answer *a);                       /* NULL is fine */
void compare_page(const struct compare_answer *a, struct page *p); /* adds to the page */
char *compare_json(const struct compare_answer *a);                /* the caller frees it */

#endif
