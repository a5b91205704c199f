#include "stats/design_search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/random.h"

#define EQUAL 1e-9 /* scores closer than this part of themselves are called equal */

/* The best found so far. */
struct best {
    double score;
    size_t changes; /* UNKNOWN until a tie asks for it */
    size_t *choice;
};

enum { WELDED_STARTS = 64, CHOSEN_STARTS = 4, CHANGES_COUNTED = 2000 };
static const size_t UNKNOWN = (size_t)-1;

static size_t changes_of(const struct space *s, const size_t *choice)
{
    double *values = mem_zero(s->group_count, sizeof *values);
    size_t at, changes = 0;

    space_values(s, choice, values);
    if (s->setup_count > 0 && s->setup_count <= CHANGES_COUNTED)
        changes = space_nearest(s, values, &at);
    free(values);
    return changes;
}

/* Takes `choice` when it scores more than the best, or as much with fewer changes. */
static bool consider(const struct search *s, const size_t *choice, double *x, struct best *best)
{
    size_t changes = UNKNOWN;
    double score;

    space_row(s->space, choice, x);
    score = score_of(s->score, x);
    if (score < best->score * (1 - EQUAL))
        return false;
    if (score <= best->score * (1 + EQUAL)) {
        if (best->changes == UNKNOWN)
            best->changes = changes_of(s->space, best->choice);
        changes = changes_of(s->space, choice);
        if (changes >= best->changes)
            return false;
    }
    *best = (struct best){score, changes, best->choice};
    memcpy(best->choice, choice, s->space->group_count * sizeof *choice);
    return true;
}

static void try_all(const struct search *s, struct best *best)
{
    size_t *choice = mem_zero(s->space->group_count, sizeof *choice);
    double *x = mem_zero(s->space->p, sizeof *x);

    do
        consider(s, choice, x, best);
    while (space_next(s->space, choice));
    free(choice);
    free(x);
}

/* Changes one variable at a time to its best level until nothing gains; `start` is overwritten. */
static void climb(const struct search *s, size_t *start, struct best *best)
{
    size_t *choice = mem_zero(s->space->group_count, sizeof *choice);
    double *x = mem_zero(s->space->p, sizeof *x);
    struct best here = {-1, UNKNOWN, start};
    bool gained = true;

    memcpy(choice, start, s->space->group_count * sizeof *choice);
    consider(s, choice, x, &here);
    while (gained) {
        gained = false;
        for (size_t g = 0; g < s->space->group_count; g++) {
            memcpy(choice, start, s->space->group_count * sizeof *choice);
            for (choice[g] = 0; choice[g] < s->space->groups[g].count; choice[g]++)
                gained = consider(s, choice, x, &here) || gained;
        }
    }
    consider(s, start, x, best);
    free(choice);
    free(x);
}

/* The levels at hand nearest to those of a welded coupon. */
static void choice_like(const struct space *s, size_t at, size_t *choice)
{
    for (size_t g = 0; g < s->group_count; g++) {
        double value = space_value(s, at, g);

        choice[g] = 0;
        for (size_t v = 1; v < s->groups[g].count; v++)
            if (fabs(s->groups[g].values[v] - value) < fabs(s->groups[g].values[choice[g]] - value))
                choice[g] = v;
    }
}

static void random_choice(const struct space *s, struct random *random, size_t *choice)
{
    for (size_t g = 0; g < s->group_count; g++)
        choice[g] = random_below(random, s->groups[g].count);
}

static void climb_from_everywhere(struct search *s, struct best *best)
{
    size_t groups = s->space->group_count, *start = mem_zero(groups, sizeof *start);
    struct random random = random_seeded(s->seed++);

    for (size_t i = 0; i < s->space->setup_count && i < WELDED_STARTS; i++) {
        choice_like(s->space, s->space->setups[i], start);
        climb(s, start, best);
    }
    for (size_t i = 0; i < s->count && i < CHOSEN_STARTS; i++) {
        memcpy(start, s->chosen + i * groups, groups * sizeof *start);
        climb(s, start, best);
    }
    for (size_t i = 0; i < s->starts; i++) {
        random_choice(s->space, &random, start);
        climb(s, start, best);
    }
    free(start);
}

void search_best(struct search *s, size_t *choice)
{
    struct best best = {-1, UNKNOWN, choice};

    if (s->all)
        try_all(s, &best);
    else
        climb_from_everywhere(s, &best);
}

static void weld(struct search *s, size_t at, bool really)
{
    double *x = mem_zero(s->space->p, sizeof *x);

    space_row(s->space, s->chosen + at * s->space->group_count, x);
    (really ? score_weld : score_unweld)(s->score, x);
    free(x);
}

void search_greedy(struct search *s, size_t count)
{
    for (s->count = 0; s->count < count; s->count++) {
        search_best(s, s->chosen + s->count * s->space->group_count);
        weld(s, s->count, true);
    }
}

/* Takes out each in turn and puts the best in its place, until a whole round gains nothing. */
static void exchange(struct search *s)
{
    size_t groups = s->space->group_count, *better = mem_zero(groups, sizeof *better);
    double *x = mem_zero(s->space->p, sizeof *x);
    bool gained = true;

    while (gained) {
        gained = false;
        for (size_t i = 0; i < s->count; i++) {
            size_t *old = s->chosen + i * groups;
            double before;

            weld(s, i, false);
            space_row(s->space, old, x);
            before = score_of(s->score, x);
            search_best(s, better);
            space_row(s->space, better, x);
            if (score_of(s->score, x) > before * (1 + EQUAL)) {
                memcpy(old, better, groups * sizeof *old);
                gained = true;
            }
            weld(s, i, true);
        }
    }
    free(better);
    free(x);
}

/* Random set-ups in place of the chosen ones. */
static void begin_again(struct search *s, struct random *random)
{
    for (size_t i = 0; i < s->count; i++) {
        weld(s, i, false);
        random_choice(s->space, random, s->chosen + i * s->space->group_count);
        weld(s, i, true);
    }
}

static void adopt(struct search *s, const size_t *chosen)
{
    for (size_t i = 0; i < s->count; i++)
        weld(s, i, false);
    memcpy(s->chosen, chosen, s->count * s->space->group_count * sizeof *chosen);
    for (size_t i = 0; i < s->count; i++)
        weld(s, i, true);
}

void search_together(struct search *s, size_t count, size_t tries)
{
    size_t size = count * s->space->group_count, *best = mem_zero(size, sizeof *best);
    struct random random = random_seeded(s->seed ^ 0x7472696573u);
    double most;

    search_greedy(s, count);
    exchange(s);
    most = score_log_det(s->score);
    memcpy(best, s->chosen, size * sizeof *best);
    for (size_t t = 0; t < tries; t++) {
        begin_again(s, &random);
        exchange(s);
        if (score_log_det(s->score) > most + EQUAL) {
            most = score_log_det(s->score);
            memcpy(best, s->chosen, size * sizeof *best);
        }
    }
    adopt(s, best);
    free(best);
}
