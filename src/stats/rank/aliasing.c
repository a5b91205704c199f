#include "stats/rank/aliasing.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/array.h"
#include "base/mem.h"
#include "stats/data/collapse.h"
#include "stats/num/linear.h"
#include "stats/num/order.h"

#define NEAR_R_SQUARED 0.9
#define NEAR_PAIR 0.8

/* The coded columns, centred, of length 1, reduced to a triangle that has the same ranks and
 * correlations. A set of groups is a bit mask. */
struct alias_search {
    const struct model_matrix *c;
    size_t q;             /* coded columns without the constant */
    double *triangle;     /* q × q */
    size_t *columns;      /* room for the columns of a set, … */
    double *part, *basis; /* … for them side by side, and for a basis of them */
    size_t set_ups;
    struct aliasing *out;
    uint64_t *found; /* masks of the exact sets, in their order */
    size_t found_capacity;
    size_t tests;
};

static void centre_columns(const struct model_matrix *c, double *x)
{
    size_t q = c->p - 1;

    for (size_t j = 0; j < q; j++) {
        double mean = 0, squares = 0;

        for (size_t i = 0; i < c->n; i++)
            mean += c->x[i * c->p + j + 1] / (double)c->n;
        for (size_t i = 0; i < c->n; i++) {
            x[i * q + j] = c->x[i * c->p + j + 1] - mean;
            squares += x[i * q + j] * x[i * q + j];
        }
        for (size_t i = 0; i < c->n && squares > 0; i++)
            x[i * q + j] /= sqrt(squares);
    }
}

static void search_init(struct alias_search *s, const struct model_matrix *c, struct aliasing *out)
{
    double *x;

    *s = (struct alias_search){.c = c, .q = c->p - 1, .out = out, .set_ups = collapse_set_ups(c)};
    x = mem_zero(c->n * s->q, sizeof *x);
    s->triangle = mem_zero(s->q * s->q, sizeof *s->triangle);
    s->columns = mem_zero(c->p, sizeof *s->columns);
    s->part = mem_zero(s->q * s->q, sizeof *s->part);
    s->basis = mem_zero(s->q * s->q, sizeof *s->basis);
    centre_columns(c, x);
    linear_triangle(x, c->n, s->q, s->triangle);
    free(x);
}

static void search_free(struct alias_search *s)
{
    free(s->triangle);
    free(s->columns);
    free(s->part);
    free(s->basis);
    free(s->found);
}

static size_t width(const struct alias_search *s, uint64_t set)
{
    return model_matrix_columns(s->c, set, s->columns) - 1;
}

/* A basis of the columns of a set (none without `basis`); returns their rank. */
static size_t basis_of(const struct alias_search *s, uint64_t set, double *basis)
{
    size_t columns = width(s, set);

    for (size_t i = 0; i < s->q; i++)
        for (size_t j = 0; j < columns; j++)
            s->part[i * columns + j] = s->triangle[i * s->q + s->columns[j + 1] - 1];
    return linear_basis(s->part, s->q, columns, LINEAR_TOLERANCE, basis);
}

static size_t rank_of(const struct alias_search *s, uint64_t set)
{
    return basis_of(s, set, NULL);
}

static uint64_t everything(const struct alias_search *s)
{
    size_t k = s->c->group_count;

    return k >= 64 ? UINT64_MAX : ((uint64_t)1 << k) - 1;
}

/* Appends an alias set of the groups; `first` (a group) comes first unless it is SIZE_MAX. */
static struct alias_set *add_alias_set(struct alias_search *s, uint64_t set, size_t first)
{
    struct aliasing *out = s->out;
    struct alias_set *t;

    out->sets = array_reserve(out->sets, &out->capacity, out->count + 1, sizeof *out->sets);
    t = &out->sets[out->count++];
    *t = (struct alias_set){.columns = mem_zero(s->c->group_count, sizeof(size_t)), .chance = NAN};
    if (first != SIZE_MAX)
        t->columns[t->count++] = s->c->groups[first].column;
    for (size_t g = 0; g < s->c->group_count; g++)
        if ((set >> g & 1) && g != first)
            t->columns[t->count++] = s->c->groups[g].column;
    if (first == SIZE_MAX)
        order_indexes(t->columns, t->count);
    return t;
}

/* The constant and the columns of a set side by side, one row a coupon. */
struct combinations {
    double *x;
    size_t count;
};

static struct combinations combinations_of(const struct alias_search *s, uint64_t set)
{
    const struct model_matrix *c = s->c;
    size_t count = width(s, set) + 1;
    double *x = mem_zero(c->n * count, sizeof *x);

    for (size_t i = 0; i < c->n; i++)
        for (size_t j = 0; j < count; j++)
            x[i * count + j] = c->x[i * c->p + s->columns[j]];
    return (struct combinations){x, count};
}

static int compare_combinations(const void *a, const void *b, void *combinations)
{
    const struct combinations *k = combinations;

    return order_rows(k->x + *(const size_t *)a * k->count, k->x + *(const size_t *)b * k->count,
                      k->count);
}

/* Coupons away from the commonest combination of the set's values. */
static void list_uncommon(const struct alias_search *s, uint64_t set, struct alias_set *t)
{
    struct combinations all = combinations_of(s, set);
    size_t n = s->c->n, *order = order_identity(n), best = 0, max = 0, run = 0;

    qsort_r(order, n, sizeof *order, compare_combinations, &all);
    for (size_t i = 0; i < n; i++) {
        run = i > 0 && compare_combinations(&order[i - 1], &order[i], &all) == 0 ? run + 1 : 1;
        if (run > max) {
            max = run;
            best = order[i];
        }
    }
    t->rows = mem_zero(n, sizeof *t->rows);
    for (size_t i = 0; i < n; i++)
        if (compare_combinations(&i, &best, &all) != 0)
            t->rows[t->row_count++] = s->c->rows[i];
    free(order);
    free(all.x);
}

static bool holds_found(const struct alias_search *s, uint64_t set)
{
    assert(s->found != NULL || s->out->count == 0);
    for (size_t i = 0; i < s->out->count; i++)
        if ((s->found[i] & set) == s->found[i])
            return true;
    return false;
}

static size_t narrowest(const struct alias_search *s, uint64_t set)
{
    size_t min = SIZE_MAX;

    for (size_t g = 0; g < s->c->group_count; g++)
        if ((set >> g & 1) && s->c->groups[g].count < min)
            min = s->c->groups[g].count;
    return min;
}

/* Records the set when it is a smallest dependent one. */
static void test_set(struct alias_search *s, uint64_t set)
{
    size_t columns = width(s, set), members = (size_t)__builtin_popcountll(set), rank;
    struct alias_set *t;

    if (holds_found(s, set) || (members > 2 && columns + 1 > s->set_ups))
        return;
    s->tests++;
    rank = rank_of(s, set);
    if (rank == columns)
        return;
    s->found = array_reserve(s->found, &s->found_capacity, s->out->count + 1, sizeof *s->found);
    s->found[s->out->count] = set;
    t = add_alias_set(s, set, SIZE_MAX);
    t->exact = true;
    t->r_squared = 1;
    t->partly = columns - rank < narrowest(s, set);
    list_uncommon(s, set, t);
}

/* All sets of `size` of the `count` groups listed, one after the other. */
static void test_size(struct alias_search *s, const size_t *groups, size_t count, size_t size)
{
    size_t *pick = mem_zero(size, sizeof *pick), at;

    for (size_t i = 0; i < size; i++)
        pick[i] = i;
    for (;;) {
        uint64_t set = 0;

        for (size_t i = 0; i < size; i++)
            set |= (uint64_t)1 << groups[pick[i]];
        test_set(s, set);
        for (at = size; at > 0 && pick[at - 1] == count - size + at - 1; at--)
            ;
        if (at == 0 || s->tests >= ALIASING_MAX_TESTS)
            break;
        pick[at - 1]++;
        for (; at < size; at++)
            pick[at] = pick[at - 1] + 1;
    }
    free(pick);
}

/* Only variables that depend on the others, at least in part, can be in an exact set. */
static void find_exact(struct alias_search *s)
{
    size_t k = s->c->group_count, *groups = mem_zero(k, sizeof *groups), count = 0;
    uint64_t all = everything(s);
    size_t rank = rank_of(s, all);

    for (size_t g = 0; g < k; g++)
        if (rank - rank_of(s, all & ~((uint64_t)1 << g)) < s->c->groups[g].count)
            groups[count++] = g;
    for (size_t size = 2; size <= count && s->tests < ALIASING_MAX_TESTS; size++)
        test_size(s, groups, count, size);
    s->out->short_of_coupons = width(s, all) + 1 > s->set_ups;
    free(groups);
}

/* R² of group g's columns on the columns of a set. */
static double r_squared_on(const struct alias_search *s, size_t g, uint64_t set)
{
    const struct model_group *group = &s->c->groups[g];
    size_t rank = basis_of(s, set, s->basis);
    double *column = mem_zero(s->q, sizeof *column), inside = 0, all = 0;

    for (size_t j = 0; j < group->count; j++) {
        for (size_t i = 0; i < s->q; i++)
            column[i] = s->triangle[i * s->q + group->first - 1 + j];
        all += linear_dot(column, column, s->q);
        inside += linear_inside(s->basis, s->q, rank, column);
    }
    free(column);
    return inside / all;
}

/* Largest canonical correlation of two groups. */
static double canonical(const struct alias_search *s, size_t g, size_t h)
{
    size_t a = s->c->groups[g].count, b = s->c->groups[h].count;
    double *u = mem_zero(s->q * a, sizeof *u), *v = mem_zero(s->q * b, sizeof *v);
    double *cross = mem_zero(a * b, sizeof *cross), largest;
    size_t a_rank = basis_of(s, (uint64_t)1 << g, u), b_rank = basis_of(s, (uint64_t)1 << h, v);

    for (size_t i = 0; i < a_rank; i++)
        for (size_t j = 0; j < b_rank; j++)
            cross[i * b + j] = linear_dot(u + i * s->q, v + j * s->q, s->q);
    largest = linear_largest(cross, a, b);
    free(u);
    free(v);
    free(cross);
    return largest;
}

/* Coupons in which group g differs from its prediction by the set: those at least half as far off
 * as the furthest. */
static void list_differing(const struct alias_search *s, size_t g, uint64_t set,
                           struct alias_set *t)
{
    const struct model_matrix *c = s->c;
    const struct model_group *group = &c->groups[g];
    struct combinations others = combinations_of(s, set);
    double *y = mem_zero(c->n, sizeof *y), *rest = mem_zero(c->n, sizeof *rest);
    double *beta = mem_zero(others.count, sizeof *beta);
    double *away = mem_zero(c->n, sizeof *away), furthest = 0;

    for (size_t j = 0; j < group->count; j++) {
        for (size_t i = 0; i < c->n; i++)
            y[i] = c->x[i * c->p + group->first + j];
        linear_least_squares(others.x, c->n, others.count, y, LINEAR_TOLERANCE, beta, rest);
        for (size_t i = 0; i < c->n; i++)
            away[i] += rest[i] * rest[i];
    }
    for (size_t i = 0; i < c->n; i++)
        furthest = fmax(furthest, away[i]);
    t->rows = mem_zero(c->n, sizeof *t->rows);
    for (size_t i = 0; i < c->n; i++)
        if (away[i] >= 0.25 * (1 - 1e-9) * furthest) /* half as far, whatever the rounding */
            t->rows[t->row_count++] = c->rows[i];
    free(others.x);
    free(y);
    free(rest);
    free(beta);
    free(away);
}

static void add_near(struct alias_search *s, size_t g, uint64_t others)
{
    struct alias_set *t = add_alias_set(s, others, g);

    t->r_squared = r_squared_on(s, g, others);
    list_differing(s, g, others, t);
}

static void find_near_pairs(struct alias_search *s, uint64_t *named)
{
    size_t k = s->c->group_count;

    for (size_t g = 0; g < k; g++)
        for (size_t h = g + 1; h < k; h++) {
            uint64_t one = (uint64_t)1 << g, other = (uint64_t)1 << h;
            bool forward;

            if (aliasing_pair(s->out, s->c->groups[g].column, s->c->groups[h].column) ||
                canonical(s, g, h) < NEAR_PAIR)
                continue;
            forward = r_squared_on(s, g, other) >= r_squared_on(s, h, one);
            add_near(s, forward ? g : h, forward ? other : one);
            if (r_squared_on(s, g, other) >= NEAR_R_SQUARED)
                named[g] = one | other;
            if (r_squared_on(s, h, one) >= NEAR_R_SQUARED)
                named[h] = one | other;
        }
}

/* Variables predicted by several others; others that are not needed for it are dropped. */
static void find_near_sets(struct alias_search *s, uint64_t *named)
{
    size_t k = s->c->group_count;
    uint64_t all = everything(s);
    size_t rank = rank_of(s, all);

    for (size_t g = 0; g < k; g++) {
        uint64_t bit = (uint64_t)1 << g, others = all & ~bit;
        bool known = named[g] != 0;

        if (rank - rank_of(s, others) < s->c->groups[g].count ||
            r_squared_on(s, g, others) < NEAR_R_SQUARED)
            continue;
        for (size_t h = 0; h < k; h++) {
            uint64_t fewer = others & ~((uint64_t)1 << h);

            if (fewer != others && r_squared_on(s, g, fewer) >= NEAR_R_SQUARED)
                others = fewer;
        }
        for (size_t h = 0; h < k; h++)
            known |= named[h] == (others | bit);
        if (known)
            continue;
        named[g] = others | bit;
        add_near(s, g, others);
    }
}

void aliasing_find(const struct model_matrix *c, struct aliasing *out)
{
    struct alias_search s;
    uint64_t *named = mem_zero(c->group_count, sizeof *named);

    assert(c->rows != NULL && c->group_count <= 64); /* a set is a bit mask */
    *out = (struct aliasing){0};
    search_init(&s, c, out);
    find_exact(&s);
    find_near_pairs(&s, named);
    find_near_sets(&s, named);
    search_free(&s);
    free(named);
}

void aliasing_free(struct aliasing *s)
{
    for (size_t i = 0; i < s->count; i++) {
        free(s->sets[i].columns);
        free(s->sets[i].rows);
        free(s->sets[i].separated_by);
    }
    free(s->sets);
    *s = (struct aliasing){0};
}

static bool holds(const struct alias_set *t, size_t column)
{
    for (size_t i = 0; i < t->count; i++)
        if (t->columns[i] == column)
            return true;
    return false;
}

bool aliasing_pair(const struct aliasing *s, size_t column_a, size_t column_b)
{
    for (size_t i = 0; i < s->count; i++)
        if (s->sets[i].exact && holds(&s->sets[i], column_a) && holds(&s->sets[i], column_b))
            return true;
    return false;
}
