/* The trial as the statistics see it: loaded once, for the ranking and all that stands beside it.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/answer.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "app/trial_frame.h"
#include "base/mem.h"
#include "model/quantity.h"
#include "model/variable_key.h"

/* Names as typed turned into keys; a name that is none stays, to be refused with its own words. */
static const char **keys_of(const struct session *s, const char *const *names, size_t count)
{
    const char **keys = mem_zero(count, sizeof *keys);

    for (size_t i = 0; i < count; i++) {
        const struct variable *v = variable_find(&s->variables, names[i]);

        keys[i] = v == NULL ? names[i] : v->key;
    }
    return keys;
}

/* Takes the struck-out coupons out of the list; returns how many there were. */
static size_t drop_struck(struct coupon_list *coupons)
{
    size_t all = coupons->count;

    coupons->count = 0;
    for (size_t i = 0; i < all; i++)
        if (coupons->items[i].struck_why != NULL)
            coupon_free(&coupons->items[i]);
        else if (coupons->count++ != i)
            coupons->items[coupons->count - 1] = coupons->items[i];
    return all - coupons->count;
}

int subject_frame(const struct session *s, const struct rank_request *r, const struct subject *x,
                  const char *const *besides, size_t besides_count, struct frame *out,
                  struct error *e)
{
    const char **with = keys_of(s, r->with, r->with_count);
    const char **without = keys_of(s, r->without, r->without_count);
    struct frame_request request = {x->result, with, r->with_count, NULL,
                                    r->without_count + besides_count};
    int rc;

    without = mem_resize(without, request.without_count + 1, sizeof *without);
    for (size_t i = 0; i < besides_count; i++)
        without[r->without_count + i] = besides[i];
    request.without = without;
    rc = trial_frame(s, &x->coupons, &request, out, e);
    free(with);
    free(without);
    return rc;
}

int subject_load(struct session *s, const struct rank_request *r, struct subject *out,
                 struct error *e)
{
    memset(out, 0, sizeof *out);
    out->units = s->units;
    if (task_trial(s, r->trial, &out->trial, e) < 0)
        return -1;
    out->result = task_trial_result(s, &out->trial, r->result, e);
    if (out->result == NULL || task_coupons(s, &out->trial, true, &out->coupons, e) < 0) {
        subject_free(out);
        return -1;
    }
    out->struck = drop_struck(&out->coupons);
    if (subject_frame(s, r, out, NULL, 0, &out->frame, e) == 0)
        return 0;
    subject_free(out);
    return -1;
}

void subject_free(struct subject *x)
{
    frame_free(&x->frame);
    coupon_list_free(&x->coupons);
    trial_free(&x->trial);
    memset(x, 0, sizeof *x);
}

static const struct level_set *set_of(const struct trial *t, const char *key)
{
    for (size_t i = 0; i < t->set_count; i++)
        if (strcmp(t->sets[i].variable, key) == 0)
            return &t->sets[i];
    return NULL;
}

/* Base unit, or index; a level no coupon has had yet is added. False when it cannot be read. */
static bool level_value(const struct session *s, struct frame *f, size_t column, const char *level,
                        double *out)
{
    const struct variable *v = variable_find(&s->variables, f->columns[column].key);
    struct quantity q;

    if (f->columns[column].category) {
        *out = (double)frame_level(f, column, level);
        return true;
    }
    if (v == NULL || quantity_parse(level, v->dimension, s->units, &q, NULL) < 0)
        return false;
    *out = q.value;
    return true;
}

struct design_levels *subject_levels(const struct session *s, struct subject *x)
{
    struct design_levels *levels = mem_zero(x->frame.k, sizeof *levels);

    for (size_t j = 0; j < x->frame.k; j++) {
        const struct level_set *set = set_of(&x->trial, x->frame.columns[j].key);

        if (set == NULL)
            continue;
        levels[j].values = mem_zero(set->count, sizeof *levels[j].values);
        for (size_t i = 0; i < set->count; i++)
            if (level_value(s, &x->frame, j, set->levels[i], &levels[j].values[levels[j].count]))
                levels[j].count++;
    }
    return levels;
}

void subject_levels_free(struct design_levels *levels, const struct frame *f)
{
    for (size_t j = 0; levels != NULL && j < f->k; j++)
        free(levels[j].values);
    free(levels);
}

double subject_stop(const struct subject *x)
{
    double highest = NAN;

    if (strcmp(x->result->key, KEY_BEND_ANGLE) != 0)
        return NAN;
    if (!isnan(x->trial.stop_deg))
        return x->trial.stop_deg;
    for (size_t i = 0; i < x->frame.n; i++)
        if (measure_held(x->frame.y[i]) && !(x->frame.y[i].low <= highest))
            highest = x->frame.y[i].low;
    return highest;
}
