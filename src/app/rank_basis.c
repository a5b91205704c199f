/* The ranking in words, second half: what cannot be told apart, what it rests on, odd coupons. */
#include <stdlib.h>

#include "app/answer.h"

static void add_separating(const struct frame *f, const struct alias_set *t, struct text *s)
{
    char label[WORDS_SIZE], level[WORDS_SIZE];

    if (t->separated_by == NULL)
        return;
    text_add(s, " One coupon with ");
    for (size_t i = 0; i < t->count; i++) {
        words_label(f->columns[t->columns[i]].label, label, sizeof label);
        words_level(f, t->columns[i], t->separated_by[i], level, sizeof level);
        text_addf(s, "%s%s %s", i == 0 ? "" : i + 1 == t->count ? " and " : ", ", label, level);
    }
    text_add(s, t->exact ? " would tell them apart." : " would help most.");
}

enum { MEMBERS_NAMED = 3, ALIAS_SETS_SHOWN = 5 }; /* a longer list is read by nobody */

static void alias_words(const struct frame *f, const struct alias_set *t, const char *names,
                        const char *rows, struct text *s)
{
    if (t->exact && t->count == 2)
        text_addf(s, "Cannot be told apart: %s were always changed together%s (coupons %s).", names,
                  t->partly ? " at some of their levels" : "", rows);
    else if (t->exact)
        text_addf(s,
                  "Cannot be told apart: %s; knowing all but one of them tells the last (coupons "
                  "%s).",
                  names, rows);
    else if (t->count > MEMBERS_NAMED)
        text_addf(s, "Hard to tell apart: %s; %.0f %% of its changes follow from %zu others.",
                  f->columns[t->columns[0]].label, 100 * t->r_squared, t->count - 1);
    else if (t->row_count == 0)
        text_addf(s,
                  "Hard to tell apart: %s; %.0f %% of the changes of the first follow from the "
                  "rest.",
                  names, 100 * t->r_squared);
    else
        text_addf(s, "Hard to tell apart: %s were mostly changed together; they part only in %s.",
                  names, rows);
}

static void add_alias_set(const struct frame *f, const struct alias_set *t, struct page *p)
{
    struct text names = {0}, rows = {0}, s = {0};

    words_labels(f, t->columns, t->count, " and ", &names);
    words_marks(f, t->rows, t->row_count, &rows);
    alias_words(f, t, text_str(&names), text_str(&rows), &s);
    if (t->exact || t->count <= MEMBERS_NAMED)
        add_separating(f, t, &s);
    page_add(p, BLOCK_ITEM, "%s", text_str(&s));
    text_free(&names);
    text_free(&rows);
    text_free(&s);
}

void rank_page_aliasing(const struct rank_answer *a, struct page *p)
{
    const struct aliasing *aliasing = &a->ranking.aliasing;
    size_t shown = 0;

    page_add(p, BLOCK_HEADING, "What cannot be told apart");
    for (size_t i = 0; i < aliasing->count; i++) {
        if (aliasing->sets[i].exact || shown < ALIAS_SETS_SHOWN) {
            add_alias_set(&a->subject.frame, &aliasing->sets[i], p);
            shown++;
        }
    }
    if (shown < aliasing->count)
        page_add(p, BLOCK_ITEM, "%zu more variables are hard to tell from the others.",
                 aliasing->count - shown);
    if (a->ranking.short_of_coupons)
        page_add(p, BLOCK_ITEM,
                 "Fewer different set-ups than these variables need: beyond what is "
                 "named, more of them can stand in for one another.");
    if (aliasing->count == 0 && !a->ranking.short_of_coupons)
        page_add(p, BLOCK_ITEM, "Nothing: every variable was also changed without the others.");
}

static void add_left_out(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    const struct frame *f = &a->subject.frame;
    size_t *rows = calloc(r->excluded.row_count + 1, sizeof *rows);

    for (size_t column = 0; rows != NULL && column <= f->k; column++) {
        size_t want = column < f->k ? column : NO_COLUMN, n = 0;
        struct text marks = {0};
        char label[WORDS_SIZE];

        for (size_t i = 0; i < r->excluded.row_count; i++)
            if (r->excluded.rows[i].column == want)
                rows[n++] = r->excluded.rows[i].row;
        words_marks(f, rows, n, &marks);
        words_label(want == NO_COLUMN ? f->result_label : f->columns[want].label, label,
                    sizeof label);
        if (n > 0)
            page_add(p, BLOCK_ITEM, "Left out, no %s written down: %s.", label, text_str(&marks));
        text_free(&marks);
    }
    free(rows);
}

static void add_scatter(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    char value[WORDS_SIZE];

    words_change(&a->subject.frame, r->range, r->scatter, false, value, sizeof value);
    if (r->scatter_from == SCATTER_REPEATS)
        page_add(p, BLOCK_ITEM, "Like coupons scatter by about %s, seen from %zu repeat%s.", value,
                 r->repeats, r->repeats == 1 ? "" : "s");
    else if (r->scatter_from == SCATTER_FIT)
        page_add(p, BLOCK_ITEM,
                 "%s to judge by: a scatter of about %s is taken from what the ranking leaves "
                 "over. Weld one set-up %s to see it.",
                 r->repeats == 0 ? "No repeats" : "Too few repeats", value,
                 r->repeats == 0 ? "twice" : "once more");
    else
        page_add(p, BLOCK_ITEM,
                 "No repeats: a scatter of about %s is assumed. Weld one set-up "
                 "twice to see it.",
                 value);
}

static void add_scatter_levels(const struct rank_answer *a, struct page *p)
{
    const struct dispersion_level *l = a->dispersion.levels;
    char label[WORDS_SIZE], x[WORDS_SIZE], y[WORDS_SIZE], sx[WORDS_SIZE], sy[WORDS_SIZE];

    if (a->dispersion.level_count == 0 || l->adjusted > 0.10)
        return;
    words_label(a->subject.frame.columns[l->column].label, label, sizeof label);
    words_level(&a->subject.frame, l->column, l->low_value, x, sizeof x);
    words_level(&a->subject.frame, l->column, l->high_value, y, sizeof y);
    words_change(&a->subject.frame, a->ranking.range / 10, l->low_scatter, false, sx, sizeof sx);
    words_change(&a->subject.frame, a->ranking.range / 10, l->high_scatter, false, sy, sizeof sy);
    page_add(p, BLOCK_ITEM,
             "The scatter itself seems to depend on %s: about %s at %s, %s at %s (by chance alone "
             "in %.0f of 100 shuffles, for having looked at every variable).",
             label, sx, x, sy, y, 100 * l->adjusted);
}

void rank_page_basis(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    struct text never = {0}, seldom = {0};

    page_add(p, BLOCK_HEADING, "What it rests on");
    page_add(p, BLOCK_ITEM,
             "%zu of %zu coupons, %zu of them held to the stop (\"at least\"); %zu different "
             "set-ups, %zu repeat%s%s.",
             r->used, r->coupons, r->held, r->set_ups, r->repeats, r->repeats == 1 ? "" : "s",
             a->subject.struck > 0 ? "; struck-out coupons do not count" : "");
    add_left_out(a, p);
    words_labels(&a->subject.frame, r->excluded.never_changed, r->excluded.never_changed_count,
                 " and ", &never);
    if (r->excluded.never_changed_count > 0)
        page_add(p, BLOCK_ITEM, "Never changed, so nothing can be said: %s.", text_str(&never));
    words_labels(&a->subject.frame, r->excluded.too_seldom, r->excluded.too_seldom_count, " and ",
                 &seldom);
    if (r->excluded.too_seldom_count > 0)
        page_add(p, BLOCK_ITEM, "Written down for too few coupons to be ranked: %s.",
                 text_str(&seldom));
    add_scatter(a, p);
    add_scatter_levels(a, p);
    if (r->searched)
        page_add(p, BLOCK_ITEM,
                 "More than 12 variables: the likeliest sets of them were searched, "
                 "not all tried.");
    if (r->approximated)
        page_add(p, BLOCK_ITEM,
                 "Many coupons: the sets of variables were judged from one full "
                 "fit (chance off by at most 0.01).");
    text_free(&never);
    text_free(&seldom);
}

void rank_page_outliers(const struct rank_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    size_t shown = 0;

    if (!a->has_outliers)
        return;
    page_add(p, BLOCK_HEADING, "Odd coupons");
    for (size_t i = 0; i < a->outliers.count && shown < 5; i++) {
        const struct outlier_check *o = &a->outliers.coupons[i];
        char low[WORDS_SIZE], high[WORDS_SIZE];

        if (!o->outlier)
            continue;
        words_result(f, a->ranking.range, o->low, low, sizeof low);
        words_result(f, a->ranking.range, o->high, high, sizeof high);
        page_add(p, BLOCK_ITEM,
                 "%s: the others lead to expect %s to %s. Look at its face and its notes%s.",
                 f->marks[o->row], low, high,
                 o->same_first ? "; without it the same variable comes first"
                               : "; without it another variable comes first");
        shown++;
    }
    if (shown == 0)
        page_add(p, BLOCK_ITEM, "None: every result is one the others lead to expect.");
    page_add(p, BLOCK_ITEM,
             a->outliers.steady
                 ? "The order is steady: leaving out any one coupon keeps the first place."
                 : "The order is not steady: leaving out a single coupon changes what comes first "
                   "or what counts as likely.");
}
