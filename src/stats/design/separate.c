#include "stats/design/separate.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_eigen.h>

#include "base/mem.h"
#include "stats/design/criterion.h"
#include "stats/num/guard.h"

#define FLAT 1e-11 /* eigenvalue, relative to the largest, that counts as 0 */
#define OFF 1e-6   /* distance from the relation that counts as off it */

/* The members of an alias set, as groups of the candidates, and their columns of x. */
struct members {
    const struct candidates *candidates;
    size_t *groups, count;
    size_t *columns, column_count;
    double *relations; /* column_count each; relation_count of them, 0 for a near set */
    size_t relation_count;
};

static void find_members(const struct candidates *s, const size_t *columns, size_t count,
                         struct members *m)
{
    *m = (struct members){.candidates = s};
    m->groups = mem_zero(s->group_count, sizeof *m->groups);
    m->columns = mem_zero(s->p, sizeof *m->columns);
    m->columns[m->column_count++] = 0;
    for (size_t g = 0; g < s->group_count; g++)
        for (size_t i = 0; i < count; i++)
            if (s->groups[g].group.column == columns[i]) {
                m->groups[m->count++] = g;
                for (size_t j = 0; j < s->groups[g].group.count; j++)
                    m->columns[m->column_count++] = s->groups[g].group.first + j;
            }
}

static gsl_matrix *moments(const struct members *m)
{
    gsl_matrix *a = guard_block(gsl_matrix_calloc(m->column_count, m->column_count));

    for (size_t i = 0; i < m->candidates->setup_count; i++) {
        const double *x = m->candidates->x + m->candidates->setups[i] * m->candidates->p;

        for (size_t j = 0; j < m->column_count; j++)
            for (size_t k = 0; k < m->column_count; k++)
                *gsl_matrix_ptr(a, j, k) += x[m->columns[j]] * x[m->columns[k]];
    }
    return a;
}

static void find_relations(struct members *m)
{
    size_t p = m->column_count;
    gsl_matrix *a = moments(m), *vectors = guard_block(gsl_matrix_alloc(p, p));
    gsl_vector *values = guard_block(gsl_vector_alloc(p));
    gsl_eigen_symmv_workspace *work = guard_block(gsl_eigen_symmv_alloc(p));

    gsl_eigen_symmv(a, values, vectors, work);
    m->relations = mem_zero(p * p, sizeof *m->relations);
    for (size_t r = 0; r < p; r++) {
        if (gsl_vector_get(values, r) > FLAT * gsl_vector_max(values))
            continue;
        for (size_t j = 0; j < p; j++)
            m->relations[m->relation_count * p + j] = gsl_matrix_get(vectors, j, r);
        m->relation_count++;
    }
    gsl_eigen_symmv_free(work);
    gsl_vector_free(values);
    gsl_matrix_free(vectors);
    gsl_matrix_free(a);
}

static void members_free(struct members *m)
{
    free(m->groups);
    free(m->columns);
    free(m->relations);
}

static bool off_relations(const struct members *m, const double *x)
{
    double squares = 0;

    for (size_t r = 0; r < m->relation_count; r++) {
        double sum = 0;

        for (size_t j = 0; j < m->column_count; j++)
            sum += m->relations[r * m->column_count + j] * x[m->columns[j]];
        squares += sum * sum;
    }
    return m->relation_count == 0 || squares > OFF * OFF;
}

static bool seen(const struct candidates *s, size_t group, double value)
{
    for (size_t i = 0; i < s->setup_count; i++)
        if (candidates_value(s, s->setups[i], group) == value)
            return true;
    return false;
}

/* The best change so far. */
struct change {
    double score;
    size_t at, group; /* welded coupon, group that is changed in it … */
    double value;     /* … to this */
};

static void try_value(const struct members *m, const struct criterion *criterion, size_t at,
                      size_t group, double value, struct change *best)
{
    const struct candidates *s = m->candidates;
    double *values = mem_zero(s->group_count, sizeof *values);
    double *x = mem_zero(s->p, sizeof *x), worth;

    for (size_t g = 0; g < s->group_count; g++)
        values[g] = g == group ? value : candidates_value(s, at, g);
    candidates_code(s, values, x);
    worth = criterion_value(criterion, x);
    if (off_relations(m, x) && worth > best->score * (1 + 1e-9))
        *best = (struct change){worth, at, group, value};
    free(values);
    free(x);
}

/* A level never welded would leave the other members aliased, so only seen ones are tried. */
static struct change best_change(const struct members *m, const struct criterion *criterion)
{
    const struct candidates *s = m->candidates;
    struct change best = {0};

    for (size_t i = 0; i < m->count; i++) {
        const struct candidate_group *g = &s->groups[m->groups[i]];

        for (size_t v = 0; v < g->count; v++)
            for (size_t u = 0; seen(s, m->groups[i], g->values[v]) && u < s->setup_count; u++)
                if (candidates_value(s, s->setups[u], m->groups[i]) != g->values[v])
                    try_value(m, criterion, s->setups[u], m->groups[i], g->values[v], &best);
    }
    return best;
}

/* Only the members' effects count, with equal weights. */
static void weigh_members(const struct members *m, struct criterion *criterion)
{
    if (criterion->weight == NULL)
        criterion->weight = mem_zero(criterion->p, sizeof *criterion->weight);
    for (size_t j = 0; j < criterion->p; j++)
        criterion->weight[j] = 0;
    for (size_t j = 1; j < m->column_count; j++)
        criterion->weight[m->columns[j]] = 1;
}

/* The values of the members in the coupon: of a welded one but for the change. */
static void fill_set(const struct members *m, const struct change *change, struct alias_set *set)
{
    assert(set->separated_by == NULL);
    set->separated_by = mem_zero(set->count, sizeof *set->separated_by);
    for (size_t i = 0; i < set->count; i++) {
        set->separated_by[i] = m->candidates->only[set->columns[i]];
        for (size_t j = 0; j < m->count; j++)
            if (m->candidates->groups[m->groups[j]].group.column == set->columns[i])
                set->separated_by[i] =
                    m->groups[j] == change->group
                        ? change->value
                        : candidates_value(m->candidates, change->at, m->groups[j]);
    }
}

static void separate_set(const struct candidates *s, struct criterion *criterion,
                         struct alias_set *set)
{
    struct members members;
    struct change change;

    find_members(s, set->columns, set->count, &members);
    find_relations(&members);
    weigh_members(&members, criterion);
    change = best_change(&members, criterion);
    if (change.score > 0)
        fill_set(&members, &change, set);
    members_free(&members);
}

void design_separate(const struct frame *f, const struct design_request *request,
                     struct aliasing *aliasing)
{
    struct candidates candidates;
    struct criterion criterion;

    if (candidates_make(f, request, &candidates, NULL) < 0)
        return;
    criterion_make(&candidates, request, &criterion);
    for (size_t i = 0; i < aliasing->count; i++)
        separate_set(&candidates, &criterion, &aliasing->sets[i]);
    criterion_free(&criterion);
    candidates_free(&candidates);
}
