/*
 * The ranking in words: one plain sentence, the table, what cannot be told apart, what it rests on,
 * what to weld next.
 */
#include <math.h>
#include <stdlib.h>

#include "app/answer.h"
#include "app/cautions.h"
#include "base/mem.h"

static void line_label(const struct rank_answer *a, const struct rank_line *line, struct text *out)
{
    size_t *columns = mem_zero(line->count, sizeof *columns);

    for (size_t i = 0; i < line->count; i++)
        columns[i] = a->ranking.items[line->first + i].column;
    words_labels(&a->subject.frame, columns, line->count, " or ", out);
    if (out->length > 0 && out->s[0] >= 'a' && out->s[0] <= 'z')
        out->s[0] = (char)(out->s[0] - 'a' + 'A');
    free(columns);
}

/* "from one to both it raised the bend angle by about 45°, somewhere between 36° and 55°" */
static void change_words(const struct rank_answer *a, const struct rank_line *line,
                         struct text *out)
{
    const struct ranked *v = line->change;
    const struct frame *f = line->frame;
    double range = words_fine(a->ranking.range, v->low, v->high), turn = v->effect < 0 ? -1 : 1;
    bool one_way = !(v->low <= 0 && v->high >= 0);
    double low = one_way && turn < 0 ? -v->high : v->low;
    double high = one_way && turn < 0 ? -v->low : v->high;
    char x[WORDS_SIZE], y[WORDS_SIZE], result[WORDS_SIZE];

    words_level(f, v->column, v->from, x, sizeof x);
    words_level(f, v->column, v->to, y, sizeof y);
    words_label(f->result_label, result, sizeof result);
    text_addf(out, "from %s to %s it %s the %s by about ", x, y,
              !one_way   ? "changed"
              : turn < 0 ? "lowered"
                         : "raised",
              result);
    words_change(f, range, one_way ? turn * v->effect : v->effect, !one_way, x, sizeof x);
    text_add(out, x);
    if (isnan(v->low))
        return;
    words_change(f, range, low, !one_way, x, sizeof x);
    words_change(f, range, high, !one_way, y, sizeof y);
    text_addf(out, ", somewhere between %s and %s", x, y);
}

/* The one sentence on top. */
static void add_answer(const struct rank_answer *a, struct page *p)
{
    const struct rank_line *line = &a->lines[0];
    struct text label = {0}, s = {0};

    line_label(a, line, &label);
    if (line->chance < SURE_HINT_FROM) {
        text_addf(&s,
                  "Nothing stands out. %s comes first, with no sign yet that it matters "
                  "(chance %.2f).",
                  text_str(&label), line->chance);
    } else {
        text_addf(&s, "%s made the most difference", text_str(&label));
        if (line->count > 1)
            text_add(&s, "; which of them cannot be told");
        if (line->change != NULL) {
            text_add(&s, ": ");
            change_words(a, line, &s);
        }
        text_addf(&s, "; %s (chance %.2f).", sureness_word(sureness_of(line->chance)),
                  line->chance);
    }
    page_add(p, BLOCK_ANSWER, "%s", text_str(&s));
    text_free(&label);
    text_free(&s);
}

static void add_runners_up(const struct rank_answer *a, struct page *p)
{
    struct text s = {0};
    size_t i;

    if (a->lines[0].chance < SURE_HINT_FROM || a->line_count == 1)
        return;
    for (i = 1; i < a->line_count && a->lines[i].chance >= SURE_HINT_FROM; i++) {
        struct text label = {0};

        line_label(a, &a->lines[i], &label);
        text_addf(&s, "%s%s is %s (%.2f)", i == 1 ? "" : "; ", text_str(&label),
                  sureness_word(sureness_of(a->lines[i].chance)), a->lines[i].chance);
        text_free(&label);
    }
    if (i == 1)
        page_add(p, BLOCK_TEXT,
                 "The others show no sign so far. That is not proof that they do "
                 "nothing.");
    else
        page_add(p, BLOCK_TEXT, "After it: %s.%s", text_str(&s),
                 i < a->line_count ? " The rest show no sign." : "");
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

static void table_change(const struct rank_answer *a, const struct rank_line *line, struct block *t,
                         size_t row)
{
    const struct ranked *v = line->change;
    double range = words_fine(a->ranking.range, v->low, v->high);
    char x[WORDS_SIZE];

    words_step(line->frame, v->column, v->from, v->to, x, sizeof x);
    page_table_cell(t, row, COL_STEP, "%s", x);
    words_change(line->frame, range, v->effect, true, x, sizeof x);
    page_table_cell(t, row, COL_CHANGE, "%s", x);
    words_range(line->frame, range, v->low, v->high, x, sizeof x);
    if (!isnan(v->low))
        page_table_cell(t, row, COL_RANGE, "%s", x);
    if (a->anyway) {
        words_change(line->frame, range, v->effect_anyway, true, x, sizeof x);
        page_table_cell(t, row, COL_ANYWAY, "%s", x);
    }
}

static void table_row(const struct rank_answer *a, const struct rank_line *line, struct block *t)
{
    const struct ranked *v = &a->ranking.items[line->first];
    struct text label = {0};
    size_t row = page_table_row(t, a->subject.frame.columns[v->column].key);

    line_label(a, line, &label);
    page_table_cell(t, row, COL_PLACE, "%zu", line->place);
    page_table_cell(t, row, COL_WHAT, "%s", text_str(&label));
    if (line->change != NULL)
        table_change(a, line, t, row);
    page_table_cell(t, row, COL_CHANCE, "%.2f", line->chance);
    page_table_cell(t, row, COL_WORD, "%s", sureness_word(sureness_of(line->chance)));
    page_table_cell(t, row, COL_SHARE, "%.0f %%", 100 * line->share);
    if (a->shuffled && !isnan(v->permutation_chance))
        page_table_cell(t, row, COL_SHUFFLE, "%.3f", v->permutation_chance);
    text_free(&label);
}

static void add_table(const struct rank_answer *a, struct page *p)
{
    struct block *t = page_add_table(p);

    table_head(a, t);
    for (size_t i = 0; i < a->line_count; i++)
        table_row(a, &a->lines[i], t);
    page_add(p, BLOCK_TEXT,
             "%.0f %% of the differences between results stay unexplained. How sure: clear from "
             "%.2f, likely from %.2f, a hint from %.2f.",
             100 * a->ranking.unexplained, SURE_CLEAR_FROM, SURE_LIKELY_FROM, SURE_HINT_FROM);
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
        words_change(f, a->ranking.range, l->effect, true, by, sizeof by);
        words_change(f, a->ranking.range, l->low, true, low, sizeof low);
        words_change(f, a->ranking.range, l->high, true, high, sizeof high);
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

/* The low or high end of a column as the pair has it: smaller number, first level. */
static void end_words(const struct rank_answer *a, size_t column, bool high, char *out, size_t size)
{
    for (size_t i = 0; i < a->ranking.count; i++) {
        const struct ranked *v = &a->ranking.items[i];

        if (v->column == column)
            words_level(&a->subject.frame, column,
                        high ? fmax(v->from, v->to) : fmin(v->from, v->to), out, size);
    }
}

static void interaction_words(const struct rank_answer *a, const struct interaction *c,
                              struct text *out)
{
    const struct frame *f = &a->subject.frame;
    char label[WORDS_SIZE], other[WORDS_SIZE], by[WORDS_SIZE], at[WORDS_SIZE] = "";

    words_label(f->columns[c->a].label, label, sizeof label);
    words_label(f->columns[c->b].label, other, sizeof other);
    text_addf(out, "What %s does depends on %s: ", label, other);
    words_change(f, a->ranking.range, c->a_at_low, true, by, sizeof by);
    end_words(a, c->b, false, at, sizeof at);
    text_addf(out, "%s with %s %s, ", by, other, at);
    words_change(f, a->ranking.range, c->a_at_high, true, by, sizeof by);
    end_words(a, c->b, true, at, sizeof at);
    text_addf(out, "%s with %s; %s (chance %.2f).", by, at, sureness_word(sureness_of(c->chance)),
              c->chance);
    if (c->same_as != INTERACTIONS_ALONE)
        text_add(out, " These coupons cannot tell it from the pair named before it.");
}

static void add_interactions(const struct rank_answer *a, struct page *p)
{
    bool begun = false;

    for (size_t i = 0; a->has_interactions && i < a->interactions.count; i++) {
        struct text s = {0};

        if (a->interactions.pairs[i].chance < SURE_HINT_FROM)
            continue;
        if (!begun)
            page_add(p, BLOCK_HEADING, "What works only together");
        begun = true;
        interaction_words(a, &a->interactions.pairs[i], &s);
        page_add(p, BLOCK_ITEM, "%s", text_str(&s));
        text_free(&s);
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
    add_interactions(a, p);
    rank_page_aliasing(a, p);
    rank_page_basis(a, p);
    rank_page_outliers(a, p);
    if (a->has_next && a->next.count > 0) {
        struct text s = {0};

        words_next(&x->frame, a->ranking.range, &a->next.coupons[0], &s);
        page_add(p, BLOCK_HEADING, "What to weld next");
        page_add(p, BLOCK_ITEM, "%s", text_str(&s));
        text_free(&s);
    }
    cautions_add(p);
}
