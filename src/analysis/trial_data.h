/*
 * What is asked of a trial, and the trial as the statistics see it: loaded once for one answer.
 */
#ifndef ANALYSIS_TRIAL_DATA_H
#define ANALYSIS_TRIAL_DATA_H

#include <stdbool.h>
#include <stddef.h>

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"
#include "model/trial.h"
#include "stats/data/frame.h"
#include "stats/design/candidates.h"
#include "stats/rank/ranking.h"

struct trial_question {
    const char *trial;       /* NULL: the last */
    const char *result;      /* NULL: the one that decides the trial */
    const char *const *with; /* derived variables to rank instead of those they come from */
    size_t with_count;
    const char *const *without; /* variables to leave out */
    size_t without_count;
    bool anyway;     /* show the unconditional effect too */
    size_t shuffles; /* 0: no second opinion by shuffling */
    /* Called now and then with the part done, 0 to 1; returning false stops the work. May be NULL.
     */
    bool (*progress)(void *context, double done);
    void *context;
};

struct trial_data {
    struct trial trial;
    const struct variable *result; /* belongs to the session */
    struct coupon_list coupons;    /* not struck out */
    size_t struck;
    struct frame frame;
    enum unit_system units;
};

/* ERROR_ANSWER when there is no such trial or nothing to judge it by, ERROR_USAGE when a name of
 * the question is no cause, or what reading the book says. `out` is empty then. */
int trial_data_load(struct session *s, const struct trial_question *q, struct trial_data *out,
                    struct error *e);
void trial_data_free(struct trial_data *data);
/* Ranks the frame as the question says. Errors of ranking_make(). */
int trial_data_rank(const struct trial_data *data, const struct trial_question *q, bool intervals,
                    struct ranking *out, struct error *e);

/*
 * What to ask of the design for `count` further coupons (1 … 64): the levels at hand where the
 * trial names them, the chances of the ranking (NULL: there is none), and where folding stops: the
 * trial's stop, else the largest angle that held; NAN when the result is no bend angle or none is
 * known. A level no coupon has had yet is added to the frame. The caller frees it with
 * trial_data_request_free().
 */
struct design_request trial_data_request(const struct session *s, struct trial_data *data,
                                         const struct ranking *ranking, size_t count);
void trial_data_request_free(struct design_request *request, const struct trial_data *data);

#endif
