/* Next coupons in words. */
#include <math.h>
#include <stdio.h>

#include "app/answer.h"
#include "app/cautions.h"

static double range_of(const struct next_answer *a)
{
    return a->has_ranking ? a->ranking.range : frame_range(&a->subject.frame);
}

/* Whether a variable differs anywhere among the coupons welded and those proposed. */
static bool varies(const struct next_answer *a, size_t column)
{
    const struct frame *f = &a->subject.frame;
    double first = a->design.count > 0 ? a->design.coupons[0].values[column] : NAN;

    for (size_t i = 0; i < a->design.count; i++)
        if (a->design.coupons[i].values[column] != first)
            return true;
    for (size_t i = 0; i < f->n; i++)
        if (!isnan(f->columns[column].x[i]) && f->columns[column].x[i] != first)
            return true;
    return false;
}

enum { ABREAST = 3 }; /* coupons that stand side by side on 80 cells */

/* One row a variable, one column a coupon, from `first` on: what is the same in all coupons needs
 * no row. */
static void add_set_ups(const struct next_answer *a, size_t first, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    struct block *t = page_add_table(p);
    char level[WORDS_SIZE];

    page_table_column(t, "set-up", false, 0);
    for (size_t i = first; i < a->design.count && i < first + ABREAST; i++) {
        snprintf(level, sizeof level, "%zu.", i + 1);
        page_table_column(t, level, false, 0);
    }
    for (size_t j = 0; j < f->k; j++) {
        size_t row;

        if (!varies(a, j))
            continue;
        row = page_table_row(t, f->columns[j].key);
        page_table_cell(t, row, 0, "%s", f->columns[j].label);
        for (size_t c = 1; c < t->column_count; c++) {
            words_level(f, j, a->design.coupons[first + c - 1].values[j], level, sizeof level);
            page_table_cell(t, row, c, "%s", level);
        }
    }
}

void next_page(const struct next_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    bool many = a->design.combinations >= 1e7;
    struct text s = {0};

    page_add(p, BLOCK_TITLE, "What to weld next: trial %s, judged by %s", a->subject.trial.name,
             f->result_label);
    for (size_t i = 0; i < a->design.count; i++) {
        words_next(f, range_of(a), &a->design.coupons[i], &s);
        page_add(p, i == 0 ? BLOCK_ANSWER : BLOCK_TEXT, "%zu. %s", i + 1, text_str(&s));
        text_free(&s);
    }
    for (size_t i = 0; i < a->design.count; i += ABREAST)
        add_set_ups(a, i, p);
    page_add(p, BLOCK_TEXT, "Everything else as in the coupons so far.");
    page_add(p, BLOCK_TEXT, "%s",
             a->design.from_results
                 ? "Chosen to settle most of what is still open, weighed by how likely each "
                   "variable is to matter."
                 : "Nothing can be ranked yet, so the set-ups are spread as evenly as the levels "
                   "at hand allow.");
    if (!a->design.all_tried)
        page_add(p, BLOCK_TEXT,
                 "%.0f%s combinations are too many to try all; the best found by "
                 "changing one thing at a time from many starts.",
                 many ? a->design.combinations / 1e6 : a->design.combinations,
                 many ? " million" : "");
    cautions_add(p);
}
