/* The ranking's notes: what cannot be told apart, what it rests on, odd coupons. */
#include <stdlib.h>

#include "analysis/format.h"
#include "analysis/rank.h"
#include "base/mem.h"

enum { MEMBERS_NAMED = 3, ALIAS_SETS_SHOWN = 5, OUTLIERS_SHOWN = 5 }; /* nobody reads more */

static void add_alias_set(const struct frame *f, const struct alias_set *t, struct page *p)
{
    bool all_named = t->exact || t->count <= MEMBERS_NAMED;
    struct text s = {0};

    text_add(&s, t->exact ? "Cannot be told apart: " : "Hard to tell apart: ");
    format_add_labels(f, t->columns, all_named ? t->count : 1, " and ", &s);
    if (t->exact && t->count == 2)
        text_addf(&s, " were always changed together%s (coupons ",
                  t->partly ? " at some of their levels" : "");
    else if (t->exact)
        text_add(&s, "; knowing all but one of them tells the last (coupons ");
    else if (!all_named)
        text_addf(&s, "; %.0f %% of its changes follow from %zu others", 100 * t->r_squared,
                  t->count - 1);
    else if (t->row_count == 0)
        text_addf(&s, "; %.0f %% of the changes of the first follow from the rest",
                  100 * t->r_squared);
    else
        text_add(&s, " were mostly changed together; they part only in ");
    if (all_named)
        format_add_marks(f, t->rows, t->row_count, &s);
    text_add(&s, t->exact ? ")." : ".");
    if (all_named && t->separated_by != NULL) {
        text_add(&s, " One coupon with ");
        format_add_set_up(f, t->separated_by, t->columns, t->count, &s);
        text_add(&s, t->exact ? " would tell them apart." : " would help most.");
    }
    page_take(p, BLOCK_ITEM, &s);
}

static void add_aliasing(const struct rank_answer *a, struct page *p)
{
    const struct aliasing *aliasing = &a->ranking.aliasing;
    size_t shown = 0;

    page_add(p, BLOCK_HEADING, "What cannot be told apart");
    for (size_t i = 0; i < aliasing->count; i++) {
        if (!aliasing->sets[i].exact && shown >= ALIAS_SETS_SHOWN)
            continue;
        add_alias_set(&a->data.frame, &aliasing->sets[i], p);
        shown++;
    }
    if (shown < aliasing->count)
        page_add(p, BLOCK_ITEM, "%zu more variables are hard to tell from the others.",
                 aliasing->count - shown);
    if (a->ranking.aliasing.short_of_coupons)
        page_add(p, BLOCK_ITEM,
                 "Fewer different set-ups than these variables need: beyond what is "
                 "named, more of them can stand in for one another.");
    else if (aliasing->count == 0)
        page_add(p, BLOCK_ITEM, "Nothing: every variable was also changed without the others.");
}

/* Coupons left out, those without the same value together; the result comes last. */
static void add_left_out(const struct rank_answer *a, struct page *p)
{
    const struct exclusions *excluded = &a->ranking.excluded;
    const struct frame *f = &a->data.frame;
    size_t *rows = mem_zero(excluded->row_count, sizeof *rows);

    for (size_t column = 0; column <= f->k; column++) {
        bool result = column == f->k;
        struct text s = {0};
        size_t count = 0;

        for (size_t i = 0; i < excluded->row_count; i++)
            if (excluded->rows[i].column == (result ? NO_COLUMN : column))
                rows[count++] = excluded->rows[i].row;
        if (count == 0)
            continue;
        text_addf(&s, "Left out, no %s written down: ",
                  format_label(result ? f->result_label : f->columns[column].label).s);
        format_add_marks(f, rows, count, &s);
        text_add(&s, ".");
        page_take(p, BLOCK_ITEM, &s);
    }
    free(rows);
}

static void add_columns(const struct frame *f, const char *what, const size_t *columns,
                        size_t count, struct page *p)
{
    struct text s = {0};

    if (count == 0)
        return;
    text_add(&s, what);
    format_add_labels(f, columns, count, " and ", &s);
    text_add(&s, ".");
    page_take(p, BLOCK_ITEM, &s);
}

static void add_scatter(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    struct phrase scatter = format_change(&a->data.frame, r->range, r->scatter);

    if (r->scatter_from == SCATTER_REPEATS)
        page_add(p, BLOCK_ITEM, "Like coupons scatter by about %s, seen from %zu repeat%s.",
                 scatter.s, r->repeats, r->repeats == 1 ? "" : "s");
    else
        page_add(p, BLOCK_ITEM,
                 "%s to judge by: a scatter of about %s is %s. Weld one set-up %s to see it.",
                 r->repeats == 0 ? "No repeats" : "Too few repeats", scatter.s,
                 r->scatter_from == SCATTER_FIT ? "taken from what the ranking leaves over"
                                                : "assumed",
                 r->repeats == 0 ? "twice" : "once more");
}

static void add_dispersion(const struct rank_answer *a, struct page *p)
{
    const struct dispersion_level *l = a->dispersion.levels;
    const struct frame *f = &a->data.frame;
    double range = a->ranking.range / 10;

    if (a->dispersion.level_count == 0 || l->adjusted > 0.10)
        return;
    page_add(p, BLOCK_ITEM,
             "The scatter itself seems to depend on %s: about %s at %s, %s at %s (by chance alone "
             "in %.0f of 100 shuffles, for having looked at every variable).",
             format_label(f->columns[l->column].label).s, format_change(f, range, l->low_scatter).s,
             format_level(f, l->column, l->low_value).s, format_change(f, range, l->high_scatter).s,
             format_level(f, l->column, l->high_value).s, 100 * l->adjusted);
}

static void add_basis(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;

    page_add(p, BLOCK_HEADING, "What it rests on");
    page_add(p, BLOCK_ITEM,
             "%zu of %zu coupons, %zu of them held to the stop (\"at least\"); %zu different "
             "set-ups, %zu repeat%s%s.",
             r->used, r->coupons, r->held, r->set_ups, r->repeats, r->repeats == 1 ? "" : "s",
             a->data.struck > 0 ? "; struck-out coupons do not count" : "");
    add_left_out(a, p);
    add_columns(&a->data.frame,
                "Never changed, so nothing can be said: ", r->excluded.never_changed,
                r->excluded.never_changed_count, p);
    add_columns(&a->data.frame,
                "Written down for too few coupons to be ranked: ", r->excluded.too_seldom,
                r->excluded.too_seldom_count, p);
    add_scatter(a, p);
    add_dispersion(a, p);
    if (r->searched)
        page_add(p, BLOCK_ITEM,
                 "More than 12 variables: the likeliest sets of them were searched, "
                 "not all tried.");
    if (r->approximated)
        page_add(p, BLOCK_ITEM,
                 "Many coupons: the sets of variables were judged from one full "
                 "fit (chance off by at most 0.01).");
}

static void add_outliers(const struct rank_answer *a, struct page *p)
{
    const struct frame *f = &a->data.frame;
    double range = a->ranking.range;
    size_t shown = 0;

    page_add(p, BLOCK_HEADING, "Odd coupons");
    for (size_t i = 0; i < a->outliers.count && shown < OUTLIERS_SHOWN; i++) {
        const struct outlier_check *o = &a->outliers.coupons[i];

        if (!o->outlier)
            continue;
        page_add(p, BLOCK_ITEM,
                 "%s: the others lead to expect %s to %s. Look at its face and its notes; without "
                 "it %s variable comes first.",
                 f->marks[o->row], format_result(f, range, o->low).s,
                 format_result(f, range, o->high).s, o->same_first ? "the same" : "another");
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

void rank_page_notes(const struct rank_answer *a, struct page *p)
{
    add_aliasing(a, p);
    add_basis(a, p);
    if (a->has_outliers)
        add_outliers(a, p);
}
