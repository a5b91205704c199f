/*
 * What a ranking, a list of next coupons and a comparison have in common: the trial, its coupons as
 * a frame, and how numbers and levels of that frame are put into words. Internal to app/.
 */
#ifndef APP_ANSWER_H
#define APP_ANSWER_H

#include <stdbool.h>

#include "app/rank_task.h"
#include "app/session.h"
#include "base/text.h"
#include "model/coupon.h"
#include "model/trial.h"
#include "stats/combined.h"
#include "stats/compare.h"
#include "stats/design.h"
#include "stats/frame.h"
#include "stats/odd.h"
#include "stats/ranking.h"
#include "stats/scatter.h"

/* The trial as the statistics see it. */
struct subject {
    struct trial trial;
    const struct variable *result; /* belongs to the session */
    struct coupon_list coupons;    /* not struck out */
    size_t struck;
    struct frame frame;
    enum unit_system units;
};

int subject_load(struct session *s, const struct rank_request *r, struct subject *out,
                 struct error *e);
void subject_free(struct subject *x);
/* The frame of the request, `besides` (keys) left out too. */
int subject_frame(const struct session *s, const struct rank_request *r, const struct subject *x,
                  const char *const *besides, size_t besides_count, struct frame *out,
                  struct error *e);
/* Levels at hand of every column, from the trial where it says them; caller frees with
 * subject_levels_free(). */
struct design_levels *subject_levels(const struct session *s, struct subject *x);
void subject_levels_free(struct design_levels *levels, const struct frame *f);
/* The stop in the result's unit, or NAN when the result is no bend angle or none is known. */
double subject_stop(const struct subject *x);

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
    double chance, share;
};

struct rank_answer {
    struct subject subject;
    struct ranking ranking;
    struct frame merged_frame; /* when has_merged: tied pairs as one variable */
    struct ranking merged;
    struct rank_line *lines; /* best first */
    size_t line_count;
    struct outliers outliers;
    struct interactions interactions;
    struct dispersion dispersion;
    struct design next;
    bool has_merged, has_outliers, has_interactions, has_next;
    bool anyway, shuffled;
};

struct next_answer {
    struct subject subject;
    struct ranking ranking; /* when has_ranking */
    bool has_ranking;
    struct design design;
};

#define COMPARE_MARKS ((size_t)-1)

struct compare_answer {
    struct subject subject;
    size_t column; /* COMPARE_MARKS: two groups of coupons, no variable */
    struct comparison_list list;
};

/* Fills merged and lines from ranking and subject; rank_lines_free() releases them. */
void rank_lines_make(const struct session *s, const struct rank_request *r, struct rank_answer *a);
void rank_lines_free(struct rank_answer *a);

/* Parts of rank_page(). */
void rank_page_aliasing(const struct rank_answer *a, struct page *p);
void rank_page_basis(const struct rank_answer *a, struct page *p);
void rank_page_outliers(const struct rank_answer *a, struct page *p);

enum { WORDS_SIZE = 160 };

/* All take numbers as the frame has them, in base units, and convert them to the units shown.
 * `range` (base unit too) is the span that decides the decimals. */
/* "58°", "-2.9 kg/mm2": a result. */
void words_result(const struct frame *f, double range, double value, char *out, size_t size);
/* "58°", with `sign` "+58°": a difference of two results. */
void words_change(const struct frame *f, double range, double change, bool sign, char *out,
                  size_t size);
/* The bare numbers. */
double words_shown(const struct column *c, double value);
double words_shown_result(const struct frame *f, double value);
double words_shown_change(const struct frame *f, double change);
/* "3 mm", "both": a value of a column (number, or index of a level). */
void words_level(const struct frame *f, size_t column, double value, char *out, size_t size);
/* "6000 – 7500 mm/min", "one – both": two values of a column. */
void words_step(const struct frame *f, size_t column, double from, double to, char *out,
                size_t size);
/* "+36 … +55°": a range of differences in the result. */
/* The range that shows an interval this narrow with decimals enough to tell its ends apart. */
double words_fine(double range, double low, double high);
void words_range(const struct frame *f, double range, double low, double high, char *out,
                 size_t size);
/* "sides welded": a column's label inside a sentence. */
void words_label(const char *label, char *out, size_t size);
/* "sides welded, preheat and gas". */
void words_labels(const struct frame *f, const size_t *columns, size_t count, const char *last,
                  struct text *out);
/* "02, 05 and 11": marks of rows; at most twelve are named, the rest counted. */
void words_marks(const struct frame *f, const size_t *rows, size_t count, struct text *out);
/* "sides welded both, preheat 20 °C": what a next coupon sets, `columns` of it. */
void words_set_up(const struct frame *f, const double *values, const size_t *columns, size_t count,
                  struct text *out);
/* One sentence a coupon: what to change from which coupon, and what that settles. */
void words_next(const struct frame *f, double range, const struct design_coupon *c,
                struct text *out);

#endif
