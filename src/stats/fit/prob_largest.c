#include "stats/fit/prob_largest.h"

#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/num/linear.h"
#include "stats/num/random.h"

struct drawing {
    const struct model_matrix *c;
    const struct model_average *a;
    struct random random;
    struct censored_data data;
    size_t *columns;
    struct censored_fit fit;
    double *factor, *draw, *beta, *row;
};

/* Largest difference an effect can make between two settings. */
static double spread(const struct model_group *g, const double *beta, double *row)
{
    double min = INFINITY, max = -INFINITY;

    if (g->count == 1)
        return fabs(beta[0]);
    for (size_t l = 0; l < g->level_count; l++) {
        double value;

        model_matrix_level(g, l, row);
        value = linear_dot(row, beta, g->count);
        min = fmin(min, value);
        max = fmax(max, value);
    }
    return max - min;
}

/* One draw from a subset: index of the group with the largest spread. */
static size_t draw_largest(struct drawing *d, const struct subset *s, size_t count)
{
    size_t best = d->c->group_count, m = count + 1;
    double largest = 0;

    for (size_t i = 0; i < m; i++)
        d->draw[i] = random_normal(&d->random);
    linear_back_solve(d->factor, m, d->draw);
    for (size_t i = 0; i < count; i++)
        d->beta[d->columns[i]] =
            (s->gamma[d->columns[i]] + d->draw[i]) / s->h / exp(d->draw[count]);
    for (size_t g = 0; g < d->c->group_count; g++) {
        const struct model_group *group = &d->c->groups[g];
        double here = s->groups >> g & 1 ? spread(group, d->beta + group->first, d->row) : 0;

        if (here > largest) {
            largest = here;
            best = g;
        }
    }
    return best;
}

/* Counts how often each group came out strongest; the last place: none mattered. */
static void draw_all(struct drawing *d, size_t *times)
{
    double reached = 0;
    int drawn = 0;

    for (size_t i = 0; i < d->a->count; i++) {
        const struct subset *s = &d->a->subsets[i];
        int end = (int)floor((reached += s->weight) * PROB_LARGEST_DRAWS + 0.5);
        size_t count = model_matrix_columns(d->c, s->groups, d->columns);

        if (end > drawn && s->groups != 0 &&
            model_average_factor(d->a, d->c, &d->data, d->columns, count, &d->fit, d->factor) == 0)
            for (; drawn < end; drawn++)
                times[draw_largest(d, s, count)]++;
        drawn = end;
    }
}

void prob_largest(const struct model_matrix *c, const struct model_average *a, uint64_t seed,
                  double *chance)
{
    size_t m = c->p + 1;
    struct drawing d = {.c = c, .a = a, .random = random_seeded(seed)};
    size_t *times = mem_zero(c->group_count + 1, sizeof *times);

    d.columns = mem_zero(m, sizeof *d.columns);
    d.factor = mem_zero(m * m, sizeof *d.factor);
    d.draw = mem_zero(m, sizeof *d.draw);
    d.beta = mem_zero(c->p, sizeof *d.beta);
    d.row = mem_zero(c->p, sizeof *d.row);
    censored_data_make(c, &d.data);
    draw_all(&d, times);
    for (size_t g = 0; g < c->group_count; g++)
        chance[g] = (double)times[g] / PROB_LARGEST_DRAWS;
    censored_data_free(&d.data);
    censored_fit_free(&d.fit);
    free(d.columns);
    free(d.factor);
    free(d.draw);
    free(d.beta);
    free(d.row);
    free(times);
}
