/* A table and its ranking, for the tests of the ranking. */
#ifndef TESTS_STATS_RANK_ANSWER_H
#define TESTS_STATS_RANK_ANSWER_H

#include "stats/rank/ranking.h"

struct answer {
    struct frame f;
    struct ranking r;
};

/* The ranking of a table (table.h) has to come off, or the test fails. */
void answer_make(const char *table, double range, const struct ranking_options *options,
                 struct answer *a);
void answer_free(struct answer *a);
/* The variable of that key, which has to be ranked. */
const struct ranked *named(const struct answer *a, const char *key);
const char *key_at(const struct answer *a, size_t place);

#endif
