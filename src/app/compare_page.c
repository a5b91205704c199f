/* A comparison in words. */
#include <math.h>
#include <stdio.h>

#include "app/answer.h"
#include "app/cautions.h"

static double range_of(const struct frame *f)
{
    double low = NAN, high = NAN;

    if (f->range > 0)
        return f->range;
    for (size_t i = 0; i < f->n; i++) {
        double v = measure_point(f->y[i]);

        low = isnan(v) || low <= v ? low : v;
        high = isnan(v) || high >= v ? high : v;
    }
    return high > low ? high - low : 1;
}

static void add_difference(const struct frame *f, double range, const struct comparison *c,
                           struct page *p)
{
    char by[WORDS_SIZE], low[WORDS_SIZE], high[WORDS_SIZE], smallest[64] = "";

    words_result(f, range, c->difference, true, by, sizeof by);
    words_result(f, range, c->low, true, low, sizeof low);
    words_result(f, range, c->high, true, high, sizeof high);
    if (isnan(c->difference))
        page_add(p, BLOCK_ANSWER, "Nothing broke in either group, so no difference can be seen.");
    else
        page_add(p, BLOCK_ANSWER, "%s against %s: %s, somewhere between %s and %s.", c->b.label,
                 c->a.label, by, low, high);
    if (c->smallest > 0.10)
        snprintf(smallest, sizeof smallest, " With so few coupons it cannot get below %.2f.",
                 c->smallest);
    if (!isnan(c->permutation.chance))
        page_add(p, BLOCK_TEXT,
                 "Dealing the results out by chance gives a difference this large %.3g times in "
                 "100 (%s%.0f arrangements).%s",
                 100 * c->permutation.chance, c->permutation.all ? "all " : "a sample of ",
                 c->permutation.all ? c->permutation.arrangements : (double)c->permutation.drawn,
                 smallest);
}

static void add_groups(const struct frame *f, double range, const struct comparison *c,
                       struct page *p)
{
    const struct compare_group *groups[] = {&c->a, &c->b};
    struct block *t = page_add_table(p);
    char mean[WORDS_SIZE];

    page_table_column(t, "", false, 0);
    page_table_column(t, "coupons", true, 0);
    page_table_column(t, "broke", true, 0);
    page_table_column(t, "held", true, 0);
    page_table_column(t, "middle", true, 0);
    page_table_column(t, "which", false, 1);
    for (int g = 0; g < 2; g++) {
        size_t row = page_table_row(t, NULL);
        struct text marks = {0};

        words_marks(f, groups[g]->rows, groups[g]->count, &marks);
        words_result(f, range, groups[g]->mean, false, mean, sizeof mean);
        page_table_cell(t, row, 0, "%s", groups[g]->label);
        page_table_cell(t, row, 1, "%zu", groups[g]->count);
        page_table_cell(t, row, 2, "%zu", groups[g]->broke);
        page_table_cell(t, row, 3, "%zu", groups[g]->held);
        page_table_cell(t, row, 4, "%s", mean);
        page_table_cell(t, row, 5, "%s", text_str(&marks));
        text_free(&marks);
    }
}

static void add_steps(const struct frame *f, double range, const struct compare_group *g,
                      struct page *p)
{
    struct text s = {0};
    char at[WORDS_SIZE];

    for (size_t i = 0; i < g->steps.step_count; i++) {
        words_result(f, range, g->steps.steps[i].at, false, at, sizeof at);
        text_addf(&s, "%s%.0f %% past %s", i == 0 ? "" : ", ", 100 * g->steps.steps[i].share, at);
    }
    page_add(p, BLOCK_ITEM, "Still unbroken, %s: %s.", g->label,
             g->steps.step_count == 0 ? "all of them" : text_str(&s));
    text_free(&s);
}

static void add_comparison(const struct frame *f, double range, const struct comparison *c,
                           struct page *p)
{
    add_difference(f, range, c, p);
    add_groups(f, range, c, p);
    add_steps(f, range, &c->a, p);
    add_steps(f, range, &c->b, p);
    if (c->a.held + c->b.held > 0 && !isnan(c->log_rank.chance))
        page_add(p, BLOCK_ITEM,
                 "Held coupons counted for what they are, the two differ this much "
                 "by chance %.3g times in 100 (log-rank, chi-square %.2f on 1).",
                 100 * c->log_rank.chance, c->log_rank.chi_square);
}

void compare_page(const struct compare_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;

    page_add(p, BLOCK_TITLE, "%s side by side: %s (trial %s)", f->columns[a->column].label,
             f->result_label, a->subject.trial.name);
    for (size_t i = 0; i < a->list.count; i++)
        add_comparison(f, range_of(f), &a->list.items[i], p);
    page_add(p, BLOCK_TEXT,
             "Whatever else differed between the two groups is in this difference "
             "too; the ranking takes it apart.");
    cautions_add(p);
}
