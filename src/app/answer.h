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
/* Levels at hand of every column, from the trial where it says them; caller frees with
 * subject_levels_free(). */
struct design_levels *subject_levels(const struct session *s, struct subject *x);
void subject_levels_free(struct design_levels *levels, const struct frame *f);
/* The stop in the result's unit, or NAN when the result is no bend angle or none is known. */
double subject_stop(const struct subject *x);

struct rank_answer {
    struct subject subject;
    struct ranking ranking;
    struct odd_report odd;
    struct combined combined;
    struct scatter scatter;
    struct design next;
    bool has_odd, has_combined, has_scatter, has_next;
    bool anyway, shuffled;
};

struct next_answer {
    struct subject subject;
    struct ranking ranking; /* when has_ranking */
    bool has_ranking;
    struct design design;
};

struct compare_answer {
    struct subject subject;
    size_t column;
    struct comparison_list list;
};

enum { WORDS_SIZE = 160 };

/* "58°", "-2.9 kg/mm2": a result, or a difference of two with `sign` ("+58°"). */
void words_result(const struct frame *f, double range, double value, bool sign, char *out,
                  size_t size);
/* "3 mm", "both": a value of a column (number, or index of a level). */
void words_level(const struct frame *f, size_t column, double value, char *out, size_t size);
/* "6000 – 7500 mm/min", "one – both": two values of a column. */
void words_step(const struct frame *f, size_t column, double from, double to, char *out,
                size_t size);
/* "+36 … +55°": a range of differences in the result. */
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
