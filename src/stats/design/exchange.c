#include "stats/design/exchange.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/random.h"

#define EQUAL 1e-9 /* relative difference below which criteria count as equal */

/* The best found so far. */
struct best {
    double score;
    size_t changes; /* UNKNOWN until it is needed */
    size_t *choice;
};

enum { WELDED_STARTS = 64, CHOSEN_STARTS = 4, CHANGES_COUNTED = 2000 };
static const size_t UNKNOWN = (size_t)-1;

static size_t changes_of(const struct candidates *s, const size_t *choice)
{
    double *values = mem_zero(s->group_count, sizeof *values);
    size_t at, changes = 0;

    candidates_values(s, choice, values);
    if (s->setup_count > 0 && s->setup_count <= CHANGES_COUNTED)
        changes = candidates_nearest(s, values, &at);
    free(values);
    return changes;
}

/* Takes `choice` when its criterion is larger, or equal with fewer changes. */
static bool consider(const struct exchange *s, const size_t *choice, double *x, struct best *best)
{
    size_t changes = UNKNOWN;
    double score;

    candidates_row(s->candidates, choice, x);
    score = criterion_value(s->criterion, x);
    if (score < best->score * (1 - EQUAL))
        return false;
    if (score <= best->score * (1 + EQUAL)) {
        if (best->changes == UNKNOWN)
            best->changes = changes_of(s->candidates, best->choice);
        changes = changes_of(s->candidates, choice);
        if (changes >= best->changes)
            return false;
    }
    *best = (struct best){score, changes, best->choice};
    memcpy(best->choice, choice, s->candidates->group_count * sizeof *choice);
    return true;
}

static void try_all(const struct exchange *s, struct best *best)
{
    size_t *choice = mem_zero(s->candidates->group_count, sizeof *choice);
    double *x = mem_zero(s->candidates->p, sizeof *x);

    do
        consider(s, choice, x, best);
    while (candidates_next(s->candidates, choice));
    free(choice);
    free(x);
}

/* Changes one variable at a time to its best level until nothing gains; `start` is overwritten. */
static void climb(const struct exchange *s, size_t *start, struct best *best)
{
    size_t *choice = mem_zero(s->candidates->group_count, sizeof *choice);
    double *x = mem_zero(s->candidates->p, sizeof *x);
    struct best here = {-1, UNKNOWN, start};
    bool gained = true;

    memcpy(choice, start, s->candidates->group_count * sizeof *choice);
    consider(s, choice, x, &here);
    while (gained) {
        gained = false;
        for (size_t g = 0; g < s->candidates->group_count; g++) {
            memcpy(choice, start, s->candidates->group_count * sizeof *choice);
            for (choice[g] = 0; choice[g] < s->candidates->groups[g].count; choice[g]++)
                gained = consider(s, choice, x, &here) || gained;
        }
    }
    consider(s, start, x, best);
    free(choice);
    free(x);
}

/* The levels at hand nearest to those of a welded coupon. */
static void choice_like(const struct candidates *s, size_t at, size_t *choice)
{
    for (size_t g = 0; g < s->group_count; g++) {
        double value = candidates_value(s, at, g);

        choice[g] = 0;
        for (size_t v = 1; v < s->groups[g].count; v++)
            if (fabs(s->groups[g].values[v] - value) < fabs(s->groups[g].values[choice[g]] - value))
                choice[g] = v;
    }
}

static void random_choice(const struct candidates *s, struct random *random, size_t *choice)
{
    for (size_t g = 0; g < s->group_count; g++)
        choice[g] = random_below(random, s->groups[g].count);
}

static void climb_from_everywhere(struct exchange *s, struct best *best)
{
    size_t groups = s->candidates->group_count, *start = mem_zero(groups, sizeof *start);
    struct random random = random_seeded(s->seed++);

    for (size_t i = 0; i < s->candidates->setup_count && i < WELDED_STARTS; i++) {
        choice_like(s->candidates, s->candidates->setups[i], start);
        climb(s, start, best);
    }
    for (size_t i = 0; i < s->count && i < CHOSEN_STARTS; i++) {
        memcpy(start, s->chosen + i * groups, groups * sizeof *start);
        climb(s, start, best);
    }
    for (size_t i = 0; i < s->starts; i++) {
        random_choice(s->candidates, &random, start);
        climb(s, start, best);
    }
    free(start);
}

void exchange_best(struct exchange *s, size_t *choice)
{
    struct best best = {-1, UNKNOWN, choice};

    if (s->all)
        try_all(s, &best);
    else
        climb_from_everywhere(s, &best);
}

void exchange_count(struct exchange *s, size_t at, double times)
{
    double *x = mem_zero(s->candidates->p, sizeof *x);

    candidates_row(s->candidates, s->chosen + at * s->candidates->group_count, x);
    criterion_add(s->criterion, x, times);
    free(x);
}

void exchange_greedy(struct exchange *s, size_t count)
{
    for (s->count = 0; s->count < count; s->count++) {
        exchange_best(s, s->chosen + s->count * s->candidates->group_count);
        exchange_count(s, s->count, 1);
    }
}

/* Removes each in turn and puts the best in its place, until a whole round gains nothing. */
static void exchange_rounds(struct exchange *s)
{
    size_t groups = s->candidates->group_count, *better = mem_zero(groups, sizeof *better);
    double *x = mem_zero(s->candidates->p, sizeof *x);
    bool gained = true;

    while (gained) {
        gained = false;
        for (size_t i = 0; i < s->count; i++) {
            size_t *old = s->chosen + i * groups;
            double before;

            exchange_count(s, i, -1);
            candidates_row(s->candidates, old, x);
            before = criterion_value(s->criterion, x);
            exchange_best(s, better);
            candidates_row(s->candidates, better, x);
            if (criterion_value(s->criterion, x) > before * (1 + EQUAL)) {
                memcpy(old, better, groups * sizeof *old);
                gained = true;
            }
            exchange_count(s, i, 1);
        }
    }
    free(better);
    free(x);
}

/* Random set-ups in place of the chosen ones. */
static void begin_again(struct exchange *s, struct random *random)
{
    for (size_t i = 0; i < s->count; i++) {
        exchange_count(s, i, -1);
        random_choice(s->candidates, random, s->chosen + i * s->candidates->group_count);
        exchange_count(s, i, 1);
    }
}

static void adopt(struct exchange *s, const size_t *chosen)
{
    for (size_t i = 0; i < s->count; i++)
        exchange_count(s, i, -1);
    memcpy(s->chosen, chosen, s->count * s->candidates->group_count * sizeof *chosen);
    for (size_t i = 0; i < s->count; i++)
        exchange_count(s, i, 1);
}

void exchange_together(struct exchange *s, size_t count, size_t tries)
{
    size_t size = count * s->candidates->group_count, *best = mem_zero(size, sizeof *best);
    struct random random = random_seeded(s->seed ^ 0x7472696573u);
    double max;

    exchange_greedy(s, count);
    exchange_rounds(s);
    max = criterion_log_det(s->criterion);
    memcpy(best, s->chosen, size * sizeof *best);
    for (size_t t = 0; t < tries; t++) {
        begin_again(s, &random);
        exchange_rounds(s);
        if (criterion_log_det(s->criterion) > max + EQUAL) {
            max = criterion_log_det(s->criterion);
            memcpy(best, s->chosen, size * sizeof *best);
        }
    }
    adopt(s, best);
    free(best);
}
