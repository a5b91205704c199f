/* Working out a ranking's whole answer. */
#include <stdlib.h>

#include "analysis/rank.h"
#include "analysis/trial_frame.h"
#include "base/mem.h"
#include "stats/design/separate.h"

enum { MAX_DIAGNOSED = 200 }; /* above this many coupons the diagnostics are skipped */

static void add_diagnostics(const struct session *s, struct rank_answer *a)
{
    struct trial_data *data = &a->data;
    struct design_request request = trial_data_request(s, data, &a->ranking, 1);

    design_separate(&data->frame, &request, &a->ranking.aliasing);
    design_next(&data->frame, &request, &a->next, NULL);
    trial_data_request_free(&request, data);
    a->has_interactions = interactions_screen(&a->ranking, &a->interactions, NULL) == 0;
    dispersion_check(&data->frame, &a->ranking, 1, &a->dispersion);
    a->has_outliers = outliers_find(&data->frame, &a->ranking, &a->outliers, NULL) == 0;
}

int rank_make(struct session *s, const struct trial_question *q, struct rank_answer **out,
              struct error *e)
{
    struct rank_answer *a = mem_zero(1, sizeof *a);
    int rc = trial_data_load(s, q, &a->data, e);

    a->anyway = q->anyway;
    a->shuffled = q->shuffles > 0;
    if (rc == 0)
        rc = trial_data_rank(&a->data, q, true, &a->ranking, e);
    if (rc == 0) {
        rank_lines_make(s, q, a);
        if (a->ranking.used <= MAX_DIAGNOSED)
            add_diagnostics(s, a);
    } else {
        rank_free(a);
    }
    *out = rc < 0 ? NULL : a;
    return rc;
}

void rank_show(const struct session *s, struct rank_answer *a)
{
    a->data.units = s->units;
    trial_frame_units(s, &a->data.frame);
    if (a->merged.count > 0)
        trial_frame_units(s, &a->merged_frame);
}

void rank_free(struct rank_answer *a)
{
    if (a == NULL)
        return;
    outliers_free(&a->outliers);
    dispersion_free(&a->dispersion);
    interactions_free(&a->interactions);
    design_free(&a->next);
    rank_lines_free(a);
    ranking_free(&a->ranking);
    trial_data_free(&a->data);
    free(a);
}
