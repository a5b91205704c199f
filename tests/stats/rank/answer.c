#include "answer.h"

#include <check.h>
#include <string.h>

#include "table.h"

void answer_make(const char *table, double range, const struct ranking_options *options,
                 struct answer *a)
{
    struct error e = {0};

    table_to_frame(table, range, &a->f);
    ck_assert_msg(ranking_make(&a->f, options, &a->r, &e) == 0, "%s", e.text);
}

void answer_free(struct answer *a)
{
    ranking_free(&a->r);
    frame_free(&a->f);
}

const struct ranked *named(const struct answer *a, const char *key)
{
    for (size_t i = 0; i < a->r.count; i++)
        if (strcmp(a->f.columns[a->r.items[i].column].key, key) == 0)
            return &a->r.items[i];
    ck_abort_msg("%s is not ranked", key);
    return NULL;
}

const char *key_at(const struct answer *a, size_t place)
{
    return a->f.columns[a->r.items[place].column].key;
}
