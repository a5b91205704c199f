/* Making the ranking's whole answer, the next coupons and the comparison from a trial. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/answer.h"
#include "app/trial_frame.h"
#include "base/mem.h"
#include "stats/design_break.h"

enum {
    MAX_DIAGNOSED = 200, /* above this many coupons the diagnostics are skipped */
};

static int rank_frame(const struct rank_request *r, bool intervals, const struct frame *f,
                      struct ranking *out, struct error *e)
{
    struct ranking_options options = ranking_usual();

    options.intervals = intervals;
    options.permutations = r->shuffles;
    options.progress = r->progress;
    options.user = r->context;
    return ranking_make(f, &options, out, e);
}

static double *chances_of(const struct ranking *r, const struct frame *f)
{
    double *chance = mem_zero(f->k, sizeof *chance);

    for (size_t i = 0; i < r->count; i++)
        chance[r->items[i].column] = r->items[i].chance;
    return chance;
}

static int design_for(const struct session *s, struct subject *x, const struct ranking *r,
                      size_t count, struct design *out, struct error *e)
{
    struct design_levels *levels = subject_levels(s, x);
    double *chance = r == NULL ? NULL : chances_of(r, &x->frame);
    struct design_request request = {
        .levels = levels, .chance = chance, .stop = subject_stop(x), .count = count, .seed = 1};
    int rc = design_next(&x->frame, &request, out, e);

    subject_levels_free(levels, &x->frame);
    free(chance);
    return rc;
}

/* For every tie, the coupon that would break it. */
static void fill_separating(const struct session *s, struct subject *x, struct ranking *r)
{
    struct design_levels *levels = subject_levels(s, x);
    double *chance = chances_of(r, &x->frame);
    struct design_request request = {
        .levels = levels, .chance = chance, .stop = subject_stop(x), .count = 1, .seed = 1};

    design_separate(&x->frame, &request, &r->aliasing);
    subject_levels_free(levels, &x->frame);
    free(chance);
}

static void add_diagnostics(const struct session *s, struct rank_answer *a)
{
    struct subject *x = &a->subject;

    fill_separating(s, x, &a->ranking);
    a->has_next = design_for(s, x, &a->ranking, 1, &a->next, NULL) == 0;
    a->has_interactions = interactions_screen(&a->ranking, &a->interactions, NULL) == 0;
    dispersion_check(&x->frame, &a->ranking, 1, &a->dispersion);
    a->has_outliers = outliers_find(&x->frame, &a->ranking, &a->outliers, NULL) == 0;
}

int rank_make(struct session *s, const struct rank_request *r, struct rank_answer **out,
              struct error *e)
{
    struct rank_answer *a = mem_zero(1, sizeof *a);

    *out = NULL;
    a->anyway = r->anyway;
    a->shuffled = r->shuffles > 0;
    if (subject_load(s, r, &a->subject, e) < 0 ||
        rank_frame(r, true, &a->subject.frame, &a->ranking, e) < 0) {
        rank_free(a);
        return -1;
    }
    rank_lines_make(s, r, a);
    if (a->ranking.used <= MAX_DIAGNOSED)
        add_diagnostics(s, a);
    *out = a;
    return 0;
}

void rank_show(const struct session *s, struct rank_answer *a)
{
    a->subject.units = s->units;
    trial_frame_units(s, &a->subject.frame);
    if (a->has_merged)
        trial_frame_units(s, &a->merged_frame);
}

void rank_free(struct rank_answer *a)
{
    if (a == NULL)
        return;
    if (a->has_outliers)
        outliers_free(&a->outliers);
    dispersion_free(&a->dispersion);
    if (a->has_interactions)
        interactions_free(&a->interactions);
    if (a->has_next)
        design_free(&a->next);
    rank_lines_free(a);
    ranking_free(&a->ranking);
    subject_free(&a->subject);
    free(a);
}

int next_make(struct session *s, const struct rank_request *r, size_t count,
              struct next_answer **out, struct error *e)
{
    struct next_answer *a = mem_zero(1, sizeof *a);

    *out = NULL;
    if (subject_load(s, r, &a->subject, e) < 0) {
        free(a);
        return -1;
    }
    /* Without a ranking the next coupons are still worth knowing: the most even plan. */
    a->has_ranking = rank_frame(r, false, &a->subject.frame, &a->ranking, NULL) == 0;
    if (design_for(s, &a->subject, a->has_ranking ? &a->ranking : NULL, count, &a->design, e) < 0) {
        if (a->has_ranking)
            ranking_free(&a->ranking);
        subject_free(&a->subject);
        free(a);
        return -1;
    }
    *out = a;
    return 0;
}

void next_free(struct next_answer *a)
{
    if (a == NULL)
        return;
    if (a->has_ranking)
        ranking_free(&a->ranking);
    design_free(&a->design);
    subject_free(&a->subject);
    free(a);
}
