#include "tally.h"

#include <math.h>

#include "stats/rank/interactions.h"
#include "stats/rank/outliers.h"

/* Part of a place among the first `places` that falls to variable `at` when equals share. */
static double credit(const double *score, size_t k, size_t at, double places)
{
    double above = 0, equal = 0, near = 1e-12 * (1 + fabs(score[at]));

    for (size_t j = 0; j < k; j++) {
        above += score[j] > score[at] + near;
        equal += fabs(score[j] - score[at]) <= near;
    }
    return fmin(1, fmax(0, (places - above) / equal));
}

static void add_order(struct tally *t, const struct scene *s, const struct ranking *r)
{
    if (s->drivers == 0)
        return;
    t->ranked[s->size][s->kind][s->held]++;
    for (size_t i = 0; i < RIVALS; i++) {
        double score[SCENE_VARIABLES];

        for (size_t j = 0; j < s->k; j++)
            score[j] = -INFINITY;
        rivals[i].score(s, r, score);
        if (isfinite(score[s->main])) {
            t->first[i][s->size][s->kind][s->held] += credit(score, s->k, s->main, 1);
            t->second[i][s->size][s->kind][s->held] += credit(score, s->k, s->main, 2);
        }
    }
}

static void add_chances(struct tally *t, const struct scene *s, const struct ranking *r)
{
    double largest = 0;

    for (size_t i = 0; i < r->count; i++) {
        double chance = r->items[i].chance;
        size_t bin = (size_t)fmin(TALLY_BINS - 1, chance * TALLY_BINS);
        bool driver = s->effect[r->items[i].column] != 0;

        t->bin[bin]++;
        t->bin_true[bin] += driver;
        t->word[r->items[i].word]++;
        t->word_true[r->items[i].word] += driver;
        largest = fmax(largest, chance);
    }
    if (s->drivers == 0) {
        t->empty[s->size][s->held]++;
        t->clear[s->size][s->held] += largest >= 0.90;
        t->likely[s->size][s->held] += largest >= 0.75;
    }
}

static void add_interval(struct tally *t, const struct scene *s, double truth, double low,
                         double high)
{
    if (isnan(low) || isnan(high))
        return;
    t->interval[s->size][s->held]++;
    t->covered[s->size][s->held] += low <= truth && truth <= high;
}

/* A category's levels are each held against the reference level. */
static void add_intervals(struct tally *t, const struct scene *s, const struct ranking *r)
{
    for (size_t i = 0; i < r->count; i++) {
        const struct ranked *v = &r->items[i];
        double reference = 0;

        if (s->effect[v->column] == 0)
            continue;
        if (v->levels == NULL)
            add_interval(t, s, s->effect[v->column], v->low, v->high);
        for (size_t l = 0; l < v->level_count; l++)
            if (v->levels[l].reference)
                reference = s->level[v->column][v->levels[l].level];
        for (size_t l = 0; l < v->level_count; l++)
            if (!v->levels[l].reference)
                add_interval(t, s, s->level[v->column][v->levels[l].level] - reference,
                             v->levels[l].low, v->levels[l].high);
    }
}

/* No simulated trial has a combined effect, so any that is called clear is a false alarm. */
static void add_pairs(struct tally *t, const struct ranking *r)
{
    struct interactions c;

    if (interactions_screen(r, &c, NULL) != 0)
        return;
    if (c.count > 0) {
        t->pairs += (double)c.count;
        t->pair_trials++;
        t->pair_clear += c.pairs[0].chance >= 0.90;
        t->pair_likely += c.pairs[0].chance >= 0.75;
    }
    interactions_free(&c);
}

/* Nor has any an odd coupon. */
static void add_odd(struct tally *t, const struct scene *s, const struct ranking *r)
{
    struct outliers o;

    if (outliers_find(&s->f, r, &o, NULL) != 0)
        return;
    t->odd_trials++;
    t->odd_called += o.count > 0 && o.coupons[0].outlier;
    t->steady += o.steady;
    t->steady_right += o.steady && s->drivers > 0 && r->items[0].column == s->main;
    t->unsteady_right += !o.steady && s->drivers > 0 && r->items[0].column == s->main;
    t->steady_driven += o.steady && s->drivers > 0;
    t->unsteady_driven += !o.steady && s->drivers > 0;
    outliers_free(&o);
}

void tally_add(struct tally *t, const struct scene *s, const struct ranking *r)
{
    add_order(t, s, r);
    add_chances(t, s, r);
    add_intervals(t, s, r);
}

void tally_add_closely(struct tally *t, const struct scene *s, const struct ranking *r)
{
    add_pairs(t, r);
    add_odd(t, s, r);
}

void tally_merge(struct tally *to, const struct tally *from)
{
    double *sum = (double *)to;
    const double *more = (const double *)from;

    for (size_t i = 0; i < sizeof *to / sizeof *sum; i++)
        sum[i] += more[i];
}
