#include "analysis/trial_data.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "analysis/trial_frame.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/mem.h"
#include "model/quantity.h"
#include "model/variable_key.h"

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

int trial_data_load(struct session *s, const struct trial_question *q, struct trial_data *out,
                    struct error *e)
{
    int rc;

    memset(out, 0, sizeof *out);
    out->units = s->units;
    rc = task_trial(s, q->trial, &out->trial, e);
    if (rc == 0)
        out->result = task_trial_result(s, &out->trial, q->result, e);
    if (out->result == NULL || task_coupon_figures(s, &out->trial, true, &out->coupons, e) < 0)
        rc = -1;
    if (rc == 0) {
        struct frame_request request = {out->result, q->with, q->with_count, q->without,
                                        q->without_count};

        out->struck = drop_struck(&out->coupons);
        rc = trial_frame(s, &out->coupons, &request, &out->frame, e);
    }
    if (rc < 0)
        trial_data_free(out);
    return rc;
}

int trial_data_rank(const struct trial_data *data, const struct trial_question *q, bool intervals,
                    struct ranking *out, struct error *e)
{
    struct ranking_options options = ranking_usual();

    options.intervals = intervals;
    options.permutations = q->shuffles;
    options.progress = q->progress;
    options.user = q->context;
    return ranking_make(&data->frame, &options, out, e);
}

void trial_data_free(struct trial_data *data)
{
    frame_free(&data->frame);
    coupon_list_free(&data->coupons);
    trial_free(&data->trial);
    memset(data, 0, sizeof *data);
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

static struct design_levels *levels_at_hand(const struct session *s, struct trial_data *data)
{
    struct design_levels *levels = mem_zero(data->frame.k, sizeof *levels);

    for (size_t j = 0; j < data->frame.k; j++) {
        const struct level_set *set = set_of(&data->trial, data->frame.columns[j].key);
        struct design_levels *l = &levels[j];

        l->values = mem_zero(set == NULL ? 0 : set->count, sizeof *l->values);
        for (size_t i = 0; set != NULL && i < set->count; i++)
            if (level_value(s, &data->frame, j, set->levels[i], &l->values[l->count]))
                l->count++;
    }
    return levels;
}

/* One a column of the frame. */
static double *chances_of(const struct ranking *r, const struct frame *f)
{
    double *chance = mem_zero(f->k, sizeof *chance);

    for (size_t i = 0; i < r->count; i++)
        chance[r->items[i].column] = r->items[i].chance;
    return chance;
}

/* Where folding stops: the trial's stop, else the largest angle that held. */
static double stop_of(const struct trial_data *data)
{
    double highest = NAN;

    if (strcmp(data->result->key, KEY_BEND_ANGLE) != 0)
        return NAN;
    if (!isnan(data->trial.stop_deg))
        return data->trial.stop_deg;
    for (size_t i = 0; i < data->frame.n; i++)
        if (measure_held(data->frame.y[i]))
            highest = fmax(highest, data->frame.y[i].low);
    return highest;
}

struct design_request trial_data_request(const struct session *s, struct trial_data *data,
                                         const struct ranking *ranking, size_t count)
{
    return (struct design_request){
        .levels = levels_at_hand(s, data),
        .chance = ranking == NULL ? NULL : chances_of(ranking, &data->frame),
        .stop = stop_of(data),
        .count = count,
        .seed = 1,
    };
}

void trial_data_request_free(struct design_request *request, const struct trial_data *data)
{
    for (size_t j = 0; j < data->frame.k; j++)
        free(request->levels[j].values);
    free((void *)request->levels);
    free((void *)request->chance);
    memset(request, 0, sizeof *request);
}
