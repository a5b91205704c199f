#include "stats/design/plans.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/design/exchange.h"

enum { MAX_COUPONS = 64, MIN_TRIES = 2, MAX_TRIES = 200 };

/* Multiplications that choosing several together may take. */
#define TOGETHER_WORK 3e8
/* Typical rounds of one exchange, and of a climb through all levels. */
#define ROUNDS 5.0
#define CLIMB_ROUNDS 3.0

/* How to search several together: every combination where that leaves time for enough starts,
 * else by climbing. Returns how many random starts there is time for. */
static size_t plan_together(const struct design_request *request, struct exchange *s)
{
    double per_set_up = (double)s->candidates->p * (double)s->candidates->p, levels = 0;
    double set_ups = (double)request->count * ROUNDS * per_set_up;
    double all = s->candidates->combinations * set_ups, climb;

    for (size_t g = 0; g < s->candidates->group_count; g++)
        levels += (double)s->candidates->groups[g].count;
    climb = CLIMB_ROUNDS * levels * set_ups;
    s->all = s->all && all * MIN_TRIES <= TOGETHER_WORK;
    s->starts = (size_t)fmax(2, fmin(DESIGN_STARTS, TOGETHER_WORK / (climb * MIN_TRIES)));
    return (size_t)fmax(
        MIN_TRIES, fmin(MAX_TRIES, TOGETHER_WORK / (s->all ? all : climb * (double)s->starts)));
}

/* Position, from `at` on, of the chosen set-up with the largest criterion. */
static size_t best_first(const struct exchange *s, const double *values, size_t at)
{
    double *x = mem_zero(s->candidates->p, sizeof *x), max = -1;
    size_t best = at;

    for (size_t i = at; i < s->count; i++) {
        candidates_code(s->candidates, values + i * s->candidates->group_count, x);
        if (criterion_value(s->criterion, x) > max * (1 + 1e-9)) {
            max = criterion_value(s->criterion, x);
            best = i;
        }
    }
    free(x);
    return best;
}

static void swap(double *a, double *b, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        double keep = a[i];

        a[i] = b[i];
        b[i] = keep;
    }
}

/* Explains the chosen set-ups, the most informative first. */
static void explain_all(struct exchange *s, bool order, struct design *out)
{
    size_t groups = s->candidates->group_count;
    double *values = mem_zero(s->count * groups, sizeof *values);
    struct explanation explanation;

    for (size_t i = 0; i < s->count; i++)
        candidates_values(s->candidates, s->chosen + i * groups, values + i * groups);
    for (size_t i = 0; i < s->count; i++)
        exchange_count(s, i, -1);
    out->log_det_gain = -criterion_log_det(s->criterion);
    out->count = s->count;
    out->coupons = mem_zero(s->count, sizeof *out->coupons);
    explain_begin(s->candidates, s->criterion, &explanation);
    for (size_t i = 0; i < s->count; i++) {
        size_t first = order ? best_first(s, values, i) : i;

        if (first != i)
            swap(values + i * groups, values + first * groups, groups);
        explain_coupon(&explanation, values, i, &out->coupons[i]);
    }
    explain_end(&explanation);
    out->log_det_gain += criterion_log_det(s->criterion);
    free(values);
}

int design_next(const struct frame *f, const struct design_request *request, struct design *out,
                struct error *e)
{
    struct candidates candidates;
    struct criterion criterion;
    struct exchange search = {
        .candidates = &candidates, .criterion = &criterion, .seed = request->seed};
    bool together;

    *out = (struct design){0};
    if (request->count < 1 || request->count > MAX_COUPONS)
        return error_set(e, ERROR_USAGE, "%zu coupons at once; 1 to %d can be chosen",
                         request->count, MAX_COUPONS);
    if (candidates_make(f, request, &candidates, e) < 0)
        return -1;
    criterion_make(&candidates, request, &criterion);
    together = criterion.weight == NULL && request->count > 1;
    search.all = candidates.combinations <= DESIGN_ALL;
    search.starts = DESIGN_STARTS;
    search.chosen = mem_zero(request->count * candidates.group_count, sizeof *search.chosen);
    if (together)
        exchange_together(&search, request->count, plan_together(request, &search));
    else
        exchange_greedy(&search, request->count);
    out->from_results = criterion.weight != NULL;
    out->all_tried = search.all;
    out->combinations = candidates.combinations;
    explain_all(&search, together, out);
    free(search.chosen);
    criterion_free(&criterion);
    candidates_free(&candidates);
    return 0;
}

void design_free(struct design *d)
{
    for (size_t i = 0; i < d->count; i++)
        design_coupon_free(&d->coupons[i]);
    free(d->coupons);
    *d = (struct design){0};
}
