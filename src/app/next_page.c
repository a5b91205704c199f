/* Next coupons in words. */
#include <math.h>

#include "app/answer.h"
#include "app/cautions.h"

static double range_of(const struct next_answer *a)
{
    if (a->has_ranking)
        return a->ranking.range;
    return a->subject.frame.range > 0 ? a->subject.frame.range : 1;
}

static void add_set_up_table(const struct next_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    struct block *t = page_add_table(p);
    char level[WORDS_SIZE];

    page_table_column(t, "", true, 0);
    for (size_t j = 0; j < f->k; j++)
        page_table_column(t, f->columns[j].label, false, 0);
    for (size_t i = 0; i < a->design.count; i++) {
        size_t row = page_table_row(t, NULL);

        page_table_cell(t, row, 0, "%zu", i + 1);
        for (size_t j = 0; j < f->k; j++) {
            words_level(f, j, a->design.coupons[i].values[j], level, sizeof level);
            page_table_cell(t, row, j + 1, "%s", level);
        }
    }
}

void next_page(const struct next_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    struct text s = {0};

    page_add(p, BLOCK_TITLE, "What to weld next: trial %s, judged by %s", a->subject.trial.name,
             f->result_label);
    for (size_t i = 0; i < a->design.count; i++) {
        words_next(f, range_of(a), &a->design.coupons[i], &s);
        page_add(p, i == 0 ? BLOCK_ANSWER : BLOCK_TEXT, "%zu. %s", i + 1, text_str(&s));
        text_free(&s);
    }
    add_set_up_table(a, p);
    page_add(p, BLOCK_TEXT, "%s",
             a->design.from_results
                 ? "Chosen to settle most of what is still open, weighed by how likely each "
                   "variable is to matter."
                 : "Nothing can be ranked yet, so the set-ups are spread as evenly as the levels "
                   "at hand allow.");
    if (!a->design.all_tried)
        page_add(p, BLOCK_TEXT,
                 "%.3g combinations are too many to try all; the best found by "
                 "changing one thing at a time from many starts.",
                 a->design.combinations);
    cautions_add(p);
}
