/* A comparison in words. */
#include <math.h>
#include <stdlib.h>

#include "analysis/compare.h"
#include "analysis/format.h"
#include "base/mem.h"
#include "page/cautions.h"
#include "stats/compare/power.h"
#include "stats/compare/tolerance.h"

/* "3 times in 100", "2 times in 10,000", "less than once in 10,000". */
static struct phrase odds(double p)
{
    bool rare = p < 0.00995;
    double times = p * (rare ? 10000 : 100);

    if (rare && times < 1)
        return phrase("less than once in 10,000");
    return phrase("%.0f time%s in %s", times, times < 1.5 ? "" : "s", rare ? "10,000" : "100");
}

/* The higher group against the lower, so that the difference is a gain. */
static void add_difference(const struct frame *f, double range, const struct comparison *c,
                           struct page *p)
{
    bool turned = c->difference < 0;

    if (isnan(c->difference)) {
        page_add(p, BLOCK_ANSWER, "Nothing broke in either group, so no difference can be seen.");
        return;
    }
    range = format_fine_range(range, c->low, c->high);
    page_add(p, BLOCK_ANSWER, "%s against %s: %s, somewhere between %s and %s.",
             turned ? c->a.label : c->b.label, turned ? c->b.label : c->a.label,
             format_signed_change(f, range, fabs(c->difference)).s,
             format_signed_change(f, range, turned ? -c->high : c->low).s,
             format_signed_change(f, range, turned ? -c->low : c->high).s);
}

static void add_dealing(const struct comparison *c, struct page *p)
{
    const struct permutation_test *t = &c->permutation;

    if (isnan(t->chance))
        return;
    page_add(
        p, BLOCK_TEXT,
        "Dealing the results out to the two at random gives a difference this large %s (%s%.0f "
        "arrangements).%s",
        odds(t->chance).s, t->all ? "all " : "a sample of ",
        t->all ? t->arrangements : (double)t->drawn,
        c->smallest < 0.05
            ? ""
            : phrase(" With so few coupons it cannot get below %.0f in 100.", 100 * c->smallest).s);
}

static void add_groups(const struct frame *f, double range, const struct comparison *c,
                       struct page *p)
{
    const struct compare_group *groups[] = {&c->a, &c->b};
    struct block *t =
        PAGE_TABLE(p, {.title = ""}, {.title = "coupons", .right = true},
                   {.title = "broke", .right = true}, {.title = "held", .right = true},
                   {.title = "middle", .right = true}, {.title = "which", .rank = 1});

    for (size_t i = 0; i < 2; i++) {
        const struct compare_group *g = groups[i];
        struct text marks = {0};

        format_add_marks(f, g->rows, g->count, &marks);
        PAGE_ROW(t, NULL, g->label, phrase("%zu", g->count).s, phrase("%zu", g->broke).s,
                 phrase("%zu", g->held).s, format_result(f, range, g->mean).s, text_str(&marks));
        text_free(&marks);
    }
}

/* All steps of a small group; of a large one those that are a tenth lower than the one before. */
static void add_steps(const struct frame *f, double range, const struct compare_group *g,
                      struct page *p)
{
    enum { STEPS_SHOWN = 12 };
    size_t last = g->steps.step_count;
    struct text s = {0};
    double share = 1;

    for (size_t i = 0; i < last; i++) {
        const struct survival_step *step = &g->steps.steps[i];

        if (last > STEPS_SHOWN && i + 1 < last && step->share > share - 0.0999)
            continue;
        share = step->share;
        text_addf(&s, "%s%.0f %% past %s", s.length == 0 ? "" : ", ", 100 * share,
                  format_result(f, range, step->at).s);
    }
    page_add(p, BLOCK_ITEM, "Still unbroken, %s: %s.", g->label,
             last == 0 ? "all of them" : text_str(&s));
    text_free(&s);
}

/* What further coupons welded like this group will do, for the decision on the real work. */
static void add_count_on(const struct frame *f, double range, const struct compare_group *g,
                         struct page *p)
{
    struct measure *y = mem_zero(g->count, sizeof *y);
    struct tolerance t;

    for (size_t i = 0; i < g->count; i++)
        y[i] = f->y[g->rows[i]];
    if (tolerance_make(y, g->count, f->range, 0.90, 0.95, &t, NULL) != 0) {
        free(y);
        return;
    }
    if (f->range > 0 && t.bound < 0) /* an angle or a share, which has no values below 0 */
        page_add(p, BLOCK_ITEM,
                 "To count on, %s: nothing; %zu coupons that scatter so much vouch for no value.",
                 g->label, t.count);
    else
        page_add(p, BLOCK_ITEM,
                 "To count on, %s: 9 in 10 further coupons reach %s, said with 95 %% confidence "
                 "from %zu coupons.",
                 g->label, format_result(f, range, t.bound).s, t.count);
    free(y);
}

/* How many coupons would show such a difference: 4 times in 5, at 5 false alarms in 100. */
static void add_needed(const struct comparison *c, struct page *p)
{
    struct power_question q = {
        .difference = fabs(c->difference), .scatter = c->scatter, .level = 0.05, .stop = INFINITY};
    size_t n;

    if (isnan(c->difference))
        return;
    n = power_coupons(&q, 0.80, 1);
    if (n > 0)
        page_add(p, BLOCK_ITEM,
                 "A difference of this size at this scatter shows 4 times in 5 with %zu coupons a "
                 "side, as long as they break.",
                 n);
}

static void add_comparison(const struct frame *f, double range, const struct comparison *c,
                           struct page *p)
{
    add_difference(f, range, c, p);
    add_dealing(c, p);
    add_groups(f, range, c, p);
    add_steps(f, range, &c->a, p);
    add_steps(f, range, &c->b, p);
    add_count_on(f, range, &c->a, p);
    add_count_on(f, range, &c->b, p);
    add_needed(c, p);
    if (c->a.held + c->b.held > 0 && !isnan(c->log_rank.chance))
        page_add(p, BLOCK_ITEM,
                 "Held coupons counted for what they are, two groups that do not differ come out "
                 "this far apart %s (log-rank, chi-square %.2f on 1).",
                 odds(c->log_rank.chance).s, c->log_rank.chi_square);
}

void compare_page(const struct compare_answer *a, struct page *p)
{
    const struct frame *f = &a->data.frame;

    page_add(p, BLOCK_TITLE, "%s side by side: %s (trial %s)",
             a->column == COMPARE_MARKS ? "Coupons" : f->columns[a->column].label, f->result_label,
             a->data.trial.name);
    for (size_t i = 0; i < a->list.count; i++)
        add_comparison(f, frame_range(f), &a->list.items[i], p);
    page_add(p, BLOCK_TEXT,
             "Whatever else differed between the two groups is in this difference "
             "too; the ranking takes it apart.");
    cautions_add(p);
}
