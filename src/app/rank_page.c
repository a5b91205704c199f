/*
 * The ranking in words: one plain sentence, the table, what cannot be told apart, what it rests on,
 * what to weld next.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/answer.h"
#include "app/cautions.h"

/* Rows of one tie follow one another and share their rank. */
static size_t group_end(const struct ranking *r, size_t i)
{
    size_t end = i + 1;

    while (r->items[i].tie != RANKING_NO_TIE && end < r->count &&
           r->items[end].rank == r->items[i].rank)
        end++;
    return end;
}

/*
 * The chance of a line of the table. For variables that cannot be told apart it is the chance that
 * at least one matters, put on the footing of a single variable: of g tied variables one or more
 * are in the ranking's sets g times as often as not before any coupon is seen (the prior by size
 * gives "none of g" 1/(g + 1)), a single one as often as not.
 */
static double group_chance(const struct ranking *r, size_t i)
{
    const struct ranked *v = &r->items[i];
    double any, odds;

    if (v->tie == RANKING_NO_TIE || isnan(r->ties.sets[v->tie].chance))
        return v->chance;
    any = r->ties.sets[v->tie].chance;
    if (any >= 1)
        return 1;
    odds = any / (1 - any) / (double)r->ties.sets[v->tie].count;
    return fmax(odds / (1 + odds), v->chance);
}

static void group_label(const struct rank_answer *a, size_t i, size_t end, const char *between,
                        struct text *out)
{
    size_t *columns = calloc(end - i, sizeof *columns);

    for (size_t j = i; columns != NULL && j < end; j++)
        columns[j - i] = a->ranking.items[j].column;
    if (columns != NULL)
        words_labels(&a->subject.frame, columns, end - i, between, out);
    if (out->length > 0 && out->s[0] >= 'a' && out->s[0] <= 'z')
        out->s[0] = (char)(out->s[0] - 'a' + 'A');
    free(columns);
}

/* A single variable, or two that are the same but for their name: one change can be shown. */
static bool group_has_effect(const struct rank_answer *a, size_t i, size_t end)
{
    const struct ranked *v = &a->ranking.items[i];

    if (end == i + 1)
        return true;
    return end == i + 2 && a->ranking.ties.sets[v->tie].count == 2 &&
           !a->ranking.ties.sets[v->tie].partly;
}

/* "from one to both it raised the bend angle by about 45°, somewhere between 36° and 55°" */
static void change_words(const struct rank_answer *a, const struct ranked *v, struct text *out)
{
    const struct frame *f = &a->subject.frame;
    double range = a->ranking.range, turn = v->effect < 0 ? -1 : 1;
    double low = turn < 0 ? v->high : v->low, high = turn < 0 ? v->low : v->high;
    bool one_way = !(v->low <= 0 && v->high >= 0);
    char x[WORDS_SIZE], y[WORDS_SIZE], result[WORDS_SIZE];

    words_level(f, v->column, v->from, x, sizeof x);
    words_level(f, v->column, v->to, y, sizeof y);
    words_label(f->result_label, result, sizeof result);
    text_addf(out, "from %s to %s it %s the %s by about ", x, y,
              !one_way   ? "changed"
              : turn < 0 ? "lowered"
                         : "raised",
              result);
    turn = one_way ? turn : 1;
    words_result(f, range, turn * v->effect, !one_way, x, sizeof x);
    text_add(out, x);
    if (isnan(v->low))
        return;
    words_result(f, range, one_way ? turn * low : v->low, !one_way, x, sizeof x);
    words_result(f, range, one_way ? turn * high : v->high, !one_way, y, sizeof y);
    text_addf(out, ", somewhere between %s and %s", x, y);
}

/* The one sentence on top. */
static void add_answer(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    size_t end = group_end(r, 0);
    double chance = group_chance(r, 0);
    struct text label = {0}, s = {0};

    group_label(a, 0, end, " or ", &label);
    if (chance < 0.5) {
        text_addf(&s,
                  "Nothing stands out. %s comes first, with no sign yet that it matters "
                  "(chance %.2f).",
                  text_str(&label), chance);
    } else {
        text_addf(&s, "%s made the most difference", text_str(&label));
        if (end > 1)
            text_addf(&s, "; these %zu cannot be told apart", end);
        if (group_has_effect(a, 0, end)) {
            text_add(&s, ": ");
            change_words(a, &r->items[0], &s);
        }
        text_addf(&s, "; %s (chance %.2f).", sureness_word(sureness_of(chance)), chance);
    }
    page_add(p, BLOCK_ANSWER, "%s", text_str(&s));
    text_free(&label);
    text_free(&s);
}

static void add_runners_up(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    struct text s = {0};
    size_t named = 0;

    if (group_chance(r, 0) < 0.5)
        return;
    for (size_t i = group_end(r, 0); i < r->count; i = group_end(r, i)) {
        double chance = group_chance(r, i);
        struct text label = {0};

        if (chance < 0.5)
            break;
        group_label(a, i, group_end(r, i), " or ", &label);
        text_addf(&s, "%s%s is %s (%.2f)", named++ == 0 ? "" : "; ", text_str(&label),
                  sureness_word(sureness_of(chance)), chance);
        text_free(&label);
    }
    if (named > 0)
        page_add(p, BLOCK_TEXT, "After it: %s. The rest show no sign.", text_str(&s));
    else if (group_end(r, 0) < r->count)
        page_add(p, BLOCK_TEXT,
                 "The others show no sign so far. That is not proof that they do "
                 "nothing.");
    text_free(&s);
}

enum {
    COL_PLACE,
    COL_WHAT,
    COL_STEP,
    COL_CHANGE,
    COL_RANGE,
    COL_CHANCE,
    COL_WORD,
    COL_SHARE,
    COL_ANYWAY,
    COL_SHUFFLE
};

static void table_head(const struct rank_answer *a, struct block *t)
{
    page_table_column(t, "", true, 0);
    page_table_column(t, "what was changed", false, 0);
    page_table_column(t, "from – to", false, 0);
    page_table_column(t, "change", true, 0);
    page_table_column(t, "could be (90 %)", true, 0);
    page_table_column(t, "chance", true, 0);
    page_table_column(t, "how sure", false, 0);
    page_table_column(t, "share", true, 1);
    if (a->anyway || a->shuffled)
        page_table_column(t, a->anyway ? "weighed" : "", true, a->anyway ? 2 : 9);
    if (a->shuffled)
        page_table_column(t, "by shuffling", true, 3);
}

static void table_change(const struct rank_answer *a, struct block *t, size_t row,
                         const struct ranked *v)
{
    const struct frame *f = &a->subject.frame;
    double range = a->ranking.range;
    char x[WORDS_SIZE];

    words_step(f, v->column, v->from, v->to, x, sizeof x);
    page_table_cell(t, row, COL_STEP, "%s", x);
    words_result(f, range, v->effect, true, x, sizeof x);
    page_table_cell(t, row, COL_CHANGE, "%s", x);
    words_range(f, range, v->low, v->high, x, sizeof x);
    if (!isnan(v->low))
        page_table_cell(t, row, COL_RANGE, "%s", x);
    if (a->anyway) {
        words_result(f, range, v->effect_anyway, true, x, sizeof x);
        page_table_cell(t, row, COL_ANYWAY, "%s", x);
    }
}

static void table_row(const struct rank_answer *a, struct block *t, size_t i, size_t end)
{
    const struct ranked *v = &a->ranking.items[i];
    struct text label = {0};
    double share = 0, chance = group_chance(&a->ranking, i);
    size_t row = page_table_row(t, a->subject.frame.columns[v->column].key);

    for (size_t j = i; j < end; j++)
        share += a->ranking.items[j].share;
    group_label(a, i, end, " or ", &label);
    page_table_cell(t, row, COL_PLACE, "%zu", v->rank);
    page_table_cell(t, row, COL_WHAT, "%s", text_str(&label));
    if (group_has_effect(a, i, end))
        table_change(a, t, row, v);
    page_table_cell(t, row, COL_CHANCE, "%.2f", chance);
    page_table_cell(t, row, COL_WORD, "%s", sureness_word(sureness_of(chance)));
    page_table_cell(t, row, COL_SHARE, "%.0f %%", 100 * share);
    if (a->shuffled && !isnan(v->shuffle_chance))
        page_table_cell(t, row, COL_SHUFFLE, "%.3f", v->shuffle_chance);
    text_free(&label);
}

static void add_table(const struct rank_answer *a, struct page *p)
{
    struct block *t = page_add_table(p);

    table_head(a, t);
    for (size_t i = 0; i < a->ranking.count; i = group_end(&a->ranking, i))
        table_row(a, t, i, group_end(&a->ranking, i));
    page_add(p, BLOCK_TEXT,
             "Share: part of the differences between results; %.0f %% stay unexplained. How sure: "
             "clear from 0.90, likely from 0.75, a hint from 0.50.",
             100 * a->ranking.unexplained);
}

/* Categories of three levels and more: every level against the commonest. */
static void add_levels(const struct rank_answer *a, const struct ranked *v, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    struct text s = {0};
    char level[WORDS_SIZE], by[WORDS_SIZE], low[WORDS_SIZE], high[WORDS_SIZE];

    if (v->level_count < 3)
        return;
    text_addf(&s, "%s, level by level: ", f->columns[v->column].label);
    for (size_t i = 0; i < v->level_count; i++) {
        const struct ranked_level *l = &v->levels[i];

        words_level(f, v->column, (double)l->level, level, sizeof level);
        words_result(f, a->ranking.range, l->effect, true, by, sizeof by);
        words_result(f, a->ranking.range, l->low, true, low, sizeof low);
        words_result(f, a->ranking.range, l->high, true, high, sizeof high);
        if (l->reference)
            text_addf(&s, "%s%s is what the others are held against (%zu)", i ? "; " : "", level,
                      l->coupons);
        else
            text_addf(&s, "%s%s %s, %s … %s (%zu)", i ? "; " : "", level, by, low, high,
                      l->coupons);
    }
    page_add(p, BLOCK_ITEM, "%s. In brackets: coupons.", text_str(&s));
    text_free(&s);
}

static void add_breaker(const struct frame *f, const struct tie *t, struct text *s)
{
    char label[WORDS_SIZE], level[WORDS_SIZE];

    if (t->breaks == NULL)
        return;
    text_add(s, " One coupon with ");
    for (size_t i = 0; i < t->count; i++) {
        words_label(f->columns[t->columns[i]].label, label, sizeof label);
        words_level(f, t->columns[i], t->breaks[i], level, sizeof level);
        text_addf(s, "%s%s %s", i == 0 ? "" : i + 1 == t->count ? " and " : ", ", label, level);
    }
    text_add(s, t->exact ? " would tell them apart." : " would help most.");
}

static void add_tie(const struct frame *f, const struct tie *t, struct page *p)
{
    struct text names = {0}, rest = {0}, rows = {0}, s = {0};

    words_labels(f, t->columns, t->count, " and ", &names);
    words_labels(f, t->columns + 1, t->count - 1, " and ", &rest);
    words_marks(f, t->rows, t->row_count, &rows);
    if (t->exact && t->count == 2)
        text_addf(&s, "Cannot be told apart: %s were always changed together%s (coupons %s).",
                  text_str(&names), t->partly ? " at some of their levels" : "", text_str(&rows));
    else if (t->exact)
        text_addf(&s,
                  "Cannot be told apart: %s; knowing all but one of them tells the last "
                  "(coupons %s).",
                  text_str(&names), text_str(&rows));
    else if (t->row_count == 0)
        text_addf(&s,
                  "Hard to tell apart: %s; %.0f %% of the changes of the first follow from "
                  "the rest.",
                  text_str(&names), 100 * t->share);
    else
        text_addf(&s,
                  "Hard to tell apart: %s were mostly changed together; they part only in "
                  "%s.",
                  text_str(&names), text_str(&rows));
    add_breaker(f, t, &s);
    page_add(p, BLOCK_ITEM, "%s", text_str(&s));
    text_free(&names);
    text_free(&rest);
    text_free(&rows);
    text_free(&s);
}

static void add_ties(const struct rank_answer *a, struct page *p)
{
    const struct inseparable *ties = &a->ranking.ties;

    page_add(p, BLOCK_HEADING, "What cannot be told apart");
    for (size_t i = 0; i < ties->count; i++)
        add_tie(&a->subject.frame, &ties->sets[i], p);
    if (a->ranking.short_of_coupons)
        page_add(p, BLOCK_ITEM,
                 "Fewer different set-ups than these variables need: beyond what is "
                 "named, more of them can stand in for one another.");
    if (ties->count == 0 && !a->ranking.short_of_coupons)
        page_add(p, BLOCK_ITEM, "Nothing: every variable was also changed without the others.");
}

static void add_left_out(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    const struct frame *f = &a->subject.frame;
    size_t *rows = calloc(r->left_out_count + 1, sizeof *rows);

    for (size_t column = 0; rows != NULL && column <= f->k; column++) {
        size_t want = column < f->k ? column : RANKING_NO_COLUMN, n = 0;
        struct text marks = {0};
        char label[WORDS_SIZE];

        for (size_t i = 0; i < r->left_out_count; i++)
            if (r->left_out[i].column == want)
                rows[n++] = r->left_out[i].row;
        words_marks(f, rows, n, &marks);
        words_label(want == RANKING_NO_COLUMN ? f->result_label : f->columns[want].label, label,
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

    words_result(&a->subject.frame, r->range, r->scatter, false, value, sizeof value);
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
    const struct scatter_level *l = a->scatter.levels;
    char label[WORDS_SIZE], x[WORDS_SIZE], y[WORDS_SIZE], sx[WORDS_SIZE], sy[WORDS_SIZE];

    if (!a->has_scatter || a->scatter.level_count == 0 || l->adjusted > 0.10)
        return;
    words_label(a->subject.frame.columns[l->column].label, label, sizeof label);
    words_level(&a->subject.frame, l->column, l->low_value, x, sizeof x);
    words_level(&a->subject.frame, l->column, l->high_value, y, sizeof y);
    words_result(&a->subject.frame, a->ranking.range / 10, l->low_scatter, false, sx, sizeof sx);
    words_result(&a->subject.frame, a->ranking.range / 10, l->high_scatter, false, sy, sizeof sy);
    page_add(p, BLOCK_ITEM,
             "The scatter itself seems to depend on %s: about %s at %s, %s at %s (by chance alone "
             "in %.0f of 100 shuffles, for having looked at every variable).",
             label, sx, x, sy, y, 100 * l->adjusted);
}

static void add_basis(const struct rank_answer *a, struct page *p)
{
    const struct ranking *r = &a->ranking;
    struct text never = {0};

    page_add(p, BLOCK_HEADING, "What it rests on");
    page_add(p, BLOCK_ITEM,
             "%zu of %zu coupons, %zu of them held to the stop (\"at least\"); %zu different "
             "set-ups, %zu repeat%s%s.",
             r->used, r->coupons, r->held, r->set_ups, r->repeats, r->repeats == 1 ? "" : "s",
             a->subject.struck > 0 ? "; struck-out coupons do not count" : "");
    add_left_out(a, p);
    words_labels(&a->subject.frame, r->never_changed, r->never_changed_count, " and ", &never);
    if (r->never_changed_count > 0)
        page_add(p, BLOCK_ITEM, "Never changed, so nothing can be said: %s.", text_str(&never));
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
}

static void add_odd(const struct rank_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    size_t shown = 0;

    if (!a->has_odd)
        return;
    page_add(p, BLOCK_HEADING, "Odd coupons");
    for (size_t i = 0; i < a->odd.count && shown < 5; i++) {
        const struct odd_coupon *o = &a->odd.coupons[i];
        char low[WORDS_SIZE], high[WORDS_SIZE];

        if (!o->odd)
            continue;
        words_result(f, a->ranking.range, o->low, false, low, sizeof low);
        words_result(f, a->ranking.range, o->high, false, high, sizeof high);
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
             a->odd.steady
                 ? "The order is steady: leaving out any one coupon keeps the first place."
                 : "The order is not steady: leaving out a single coupon changes what comes first "
                   "or what counts as likely.");
}

static void add_combined(const struct rank_answer *a, struct page *p)
{
    const struct frame *f = &a->subject.frame;
    bool begun = false;

    for (size_t i = 0; a->has_combined && i < a->combined.count; i++) {
        const struct combined_pair *c = &a->combined.pairs[i];
        char la[WORDS_SIZE], lb[WORDS_SIZE], low[WORDS_SIZE], high[WORDS_SIZE];

        if (c->chance < 0.5)
            continue;
        if (!begun)
            page_add(p, BLOCK_HEADING, "What works only together");
        begun = true;
        words_label(f->columns[c->a].label, la, sizeof la);
        words_label(f->columns[c->b].label, lb, sizeof lb);
        words_result(f, a->ranking.range, c->at_low, true, low, sizeof low);
        words_result(f, a->ranking.range, c->at_high, true, high, sizeof high);
        page_add(p, BLOCK_ITEM,
                 "What %s does depends on %s: %s at its low end or first level, %s at the other; "
                 "%s (chance %.2f).",
                 la, lb, low, high, sureness_word(sureness_of(c->chance)), c->chance);
    }
}

void rank_page(const struct rank_answer *a, struct page *p)
{
    const struct subject *x = &a->subject;

    page_add(p, BLOCK_TITLE, "What made the difference: %s (trial %s)", x->frame.result_label,
             x->trial.name);
    add_answer(a, p);
    add_runners_up(a, p);
    add_table(a, p);
    for (size_t i = 0; i < a->ranking.count; i++)
        add_levels(a, &a->ranking.items[i], p);
    add_combined(a, p);
    add_ties(a, p);
    add_basis(a, p);
    add_odd(a, p);
    if (a->has_next && a->next.count > 0) {
        struct text s = {0};

        words_next(&x->frame, a->ranking.range, &a->next.coupons[0], &s);
        page_add(p, BLOCK_HEADING, "What to weld next");
        page_add(p, BLOCK_ITEM, "%s", text_str(&s));
        text_free(&s);
    }
    cautions_add(p);
}
