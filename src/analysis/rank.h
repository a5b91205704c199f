/*
 * The ranking of a trial: one call works out the whole answer, from which the page and the JSON are
 * made.
 */
#ifndef ANALYSIS_RANK_H
#define ANALYSIS_RANK_H

#include "analysis/trial_data.h"
#include "page/page.h"
#include "stats/design/plans.h"
#include "stats/rank/dispersion.h"
#include "stats/rank/interactions.h"
#include "stats/rank/outliers.h"

/*
 * One line of the ranking: a variable, or several that cannot be told apart. For variables that
 * were always changed together, pair by pair, the change shown is that of changing them together:
 * it comes from a ranking in which they are one variable. A larger set has no single change; its
 * chance is that at least one of it matters, on the footing of a single variable: of g variables
 * at least one is in the sets of variables g times as often as not before any coupon is seen (the
 * prior by size gives "none of g" 1/(g + 1)), a single one as often as not.
 */
struct rank_line {
    size_t first, count;         /* items of the ranking */
    size_t place;                /* from 1; lines of several take up as many places */
    const struct frame *frame;   /* what `change` speaks of */
    const struct ranked *change; /* NULL: no single change */
    double chance, share;        /* 0 … 1 */
};

struct rank_answer {
    struct trial_data data;
    struct ranking ranking;
    struct frame merged_frame; /* tied pairs as one variable; empty when there are none */
    struct ranking merged;
    struct rank_line *lines; /* best first, at least one */
    size_t line_count;
    struct outliers outliers;
    struct interactions interactions;
    struct dispersion dispersion;
    struct design next; /* no coupon: none could be proposed, or the diagnostics were skipped */
    bool has_outliers, has_interactions;
    bool anyway, shuffled;
};

/* Errors of trial_data_load() and ranking_make(); *out is NULL then. The caller frees it with
 * rank_free(). */
int rank_make(struct session *s, const struct trial_question *q, struct rank_answer **out,
              struct error *e);
void rank_free(struct rank_answer *a); /* NULL is fine */
/* Shows the answer in the units the session has now; the ranking itself stays. */
void rank_show(const struct session *s, struct rank_answer *a);
void rank_page(const struct rank_answer *a, struct page *p); /* adds to the page */
char *rank_json(const struct rank_answer *a);                /* the caller frees it */

/* Parts of the above, each in a file of its own. */
/* Fills merged and lines from ranking and data; rank_lines_free() releases them. */
void rank_lines_make(const struct session *s, const struct trial_question *q,
                     struct rank_answer *a);
void rank_lines_free(struct rank_answer *a);
/* What cannot be told apart, what the ranking rests on, odd coupons. */
void rank_page_notes(const struct rank_answer *a, struct page *p);

#endif
