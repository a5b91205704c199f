/* The lines of a ranking: what can be told apart on lines of its own, the rest together. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "analysis/rank.h"
#include "analysis/trial_frame.h"
#include "base/mem.h"

/* Items of one tie follow one another and share their rank. */
static size_t group_end(const struct ranking *r, size_t i)
{
    size_t end = i + 1;

    while (r->items[i].alias_set != RANKING_NO_ALIAS && end < r->count &&
           r->items[end].rank == r->items[i].rank)
        end++;
    return end;
}

/* True when every tie of these items is a whole pair: they are one variable under several names. */
static bool all_pairs(const struct ranking *r, size_t i, size_t end)
{
    for (size_t t = 0; t < r->aliasing.count; t++) {
        const struct alias_set *set = &r->aliasing.sets[t];

        for (size_t j = i; set->exact && j < end; j++)
            for (size_t m = 0; m < set->count; m++)
                if (set->columns[m] == r->items[j].column && (set->count != 2 || set->partly))
                    return false;
    }
    return true;
}

static double group_chance(const struct ranking *r, size_t i, size_t end)
{
    double any = r->aliasing.sets[r->items[i].alias_set].chance;
    double none = (1 - any) * (double)(end - i);

    return fmax(any / (any + none), r->items[i].chance);
}

/* Keys of all but the first of every group that is one variable under several names. */
static size_t second_names(const struct rank_answer *a, const char **keys)
{
    const struct ranking *r = &a->ranking;
    size_t count = 0;

    for (size_t i = 0; i < r->count; i = group_end(r, i)) {
        size_t end = group_end(r, i);

        for (size_t j = i + 1; all_pairs(r, i, end) && j < end; j++)
            keys[count++] = a->data.frame.columns[r->items[j].column].key;
    }
    return count;
}

static void make_merged(const struct session *s, const struct trial_question *q,
                        struct rank_answer *a)
{
    const char **without = mem_zero(q->without_count + a->ranking.count, sizeof *without);
    size_t count = second_names(a, without + q->without_count);
    struct frame_request request = {a->data.result, q->with, q->with_count, without,
                                    q->without_count + count};

    for (size_t i = 0; i < q->without_count; i++)
        without[i] = q->without[i];
    if (count > 0 && trial_frame(s, &a->data.coupons, &request, &a->merged_frame, NULL) == 0)
        ranking_make(&a->merged_frame, NULL, &a->merged, NULL);
    free(without);
}

static const struct ranked *merged_item(const struct rank_answer *a, const char *key)
{
    for (size_t i = 0; i < a->merged.count; i++)
        if (strcmp(a->merged_frame.columns[a->merged.items[i].column].key, key) == 0)
            return &a->merged.items[i];
    return NULL;
}

static void fill_line(const struct rank_answer *a, size_t i, struct rank_line *line)
{
    const struct ranking *r = &a->ranking;
    size_t end = group_end(r, i);

    *line = (struct rank_line){.first = i, .count = end - i, .frame = &a->data.frame};
    for (size_t j = i; j < end; j++)
        line->share += r->items[j].importance;
    if (line->count == 1) {
        line->change = &r->items[i];
    } else if (all_pairs(r, i, end)) {
        line->frame = &a->merged_frame;
        line->change = merged_item(a, a->data.frame.columns[r->items[i].column].key);
    }
    line->chance = line->change != NULL ? line->change->chance : group_chance(r, i, end);
}

/* By chance; equal ones stay as the ranking has them. */
static int by_chance(const void *x, const void *y)
{
    const struct rank_line *a = x, *b = y;

    if (a->chance != b->chance)
        return a->chance > b->chance ? -1 : 1;
    return a->first < b->first ? -1 : 1;
}

void rank_lines_make(const struct session *s, const struct trial_question *q, struct rank_answer *a)
{
    const struct ranking *ranking = &a->ranking;

    make_merged(s, q, a);
    a->lines = mem_zero(ranking->count, sizeof *a->lines);
    for (size_t i = 0; i < ranking->count; i = group_end(ranking, i))
        fill_line(a, i, &a->lines[a->line_count++]);
    qsort(a->lines, a->line_count, sizeof *a->lines, by_chance);
    for (size_t i = 0, place = 1; i < a->line_count; place += a->lines[i++].count)
        a->lines[i].place = place;
}

void rank_lines_free(struct rank_answer *a)
{
    ranking_free(&a->merged);
    frame_free(&a->merged_frame);
    free(a->lines);
}
