/*
 * The ranking as a page: one plain sentence, the table, what works only together, the notes, what
 * to weld next.
 */
#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "analysis/format.h"
#include "analysis/next.h"
#include "analysis/rank.h"
#include "base/mem.h"
#include "page/cautions.h"
#include "stats/num/interval.h"

/* "Sides welded", "Wire or cleaning": what a line speaks of. */
static void add_name(const struct rank_answer *a, const struct rank_line *line, struct text *out)
{
    size_t *columns = mem_zero(line->count, sizeof *columns), start = out->length;

    for (size_t i = 0; i < line->count; i++)
        columns[i] = a->ranking.items[line->first + i].column;
    format_add_labels(&a->data.frame, columns, line->count, " or ", out);
    if (out->s[start] >= 'a' && out->s[start] <= 'z')
        out->s[start] = (char)(out->s[start] - 'a' + 'A');
    free(columns);
}

static const char *sure(const struct rank_line *line)
{
    return sureness_word(sureness_of(line->chance));
}

/* "from one to both it raised the bend angle by about 45°, somewhere between 36° and 55°"; with
 * signs where the interval holds 0. */
static void add_change(const struct rank_answer *a, const struct rank_line *line, struct text *out)
{
    const struct ranked *v = line->change;
    const struct frame *f = line->frame;
    double range = format_fine_range(a->ranking.range, v->low, v->high);
    bool both_ways = v->low <= 0 && v->high >= 0, lowered = !both_ways && v->effect < 0;
    struct phrase (*change)(const struct frame *, double, double) =
        both_ways ? format_signed_change : format_change;

    text_addf(out, "from %s to %s it %s the %s by about %s", format_level(f, v->column, v->from).s,
              format_level(f, v->column, v->to).s,
              both_ways ? "changed"
              : lowered ? "lowered"
                        : "raised",
              format_label(f->result_label).s,
              change(f, range, lowered ? -v->effect : v->effect).s);
    if (!isnan(v->low))
        text_addf(out, ", somewhere between %s and %s",
                  change(f, range, lowered ? -v->high : v->low).s,
                  change(f, range, lowered ? -v->low : v->high).s);
}

/* The one sentence on top. */
static void add_answer(const struct rank_answer *a, struct page *p)
{
    const struct rank_line *line = &a->lines[0];
    struct text s = {0};

    if (line->chance < SURE_HINT_FROM) {
        text_add(&s, "Nothing stands out. ");
        add_name(a, line, &s);
        text_addf(&s, " comes first, with no sign yet that it matters (chance %.2f).",
                  sureness_shown(line->chance));
    } else {
        add_name(a, line, &s);
        text_addf(&s, " made the most difference%s",
                  line->count > 1 ? "; which of them cannot be told" : "");
        if (line->change != NULL) {
            text_add(&s, ": ");
            add_change(a, line, &s);
        }
        text_addf(&s, "; %s (chance %.2f).", sure(line), sureness_shown(line->chance));
    }
    page_take(p, BLOCK_ANSWER, &s);
}

static void add_runners_up(const struct rank_answer *a, struct page *p)
{
    struct text s = {0};
    size_t i;

    if (a->lines[0].chance < SURE_HINT_FROM || a->line_count == 1)
        return;
    for (i = 1; i < a->line_count && a->lines[i].chance >= SURE_HINT_FROM; i++) {
        text_add(&s, i == 1 ? "After it: " : "; ");
        add_name(a, &a->lines[i], &s);
        text_addf(&s, " is %s (%.2f)", sure(&a->lines[i]), sureness_shown(a->lines[i].chance));
    }
    if (i == 1)
        text_add(&s, "The others show no sign so far. That is not proof that they do nothing.");
    else
        text_add(&s, i < a->line_count ? ". The rest show no sign." : ".");
    page_take(p, BLOCK_TEXT, &s);
}

/* One row of the table while it is made. */
struct row {
    const struct rank_answer *answer;
    const struct rank_line *line;
    const struct ranked *change; /* the line's; NULL: no single change */
    double range;                /* decides the decimals of the change */
};

static void cell_place(const struct row *r, struct text *out)
{
    text_addf(out, "%zu", r->line->place);
}

static void cell_name(const struct row *r, struct text *out)
{
    add_name(r->answer, r->line, out);
}

static void cell_step(const struct row *r, struct text *out)
{
    text_add(out, format_step(r->line->frame, r->change->column, r->change->from, r->change->to).s);
}

static void cell_change(const struct row *r, struct text *out)
{
    text_add(out, format_signed_change(r->line->frame, r->range, r->change->effect).s);
}

static void cell_interval(const struct row *r, struct text *out)
{
    if (!isnan(r->change->low))
        text_add(out, format_range(r->line->frame, r->range, r->change->low, r->change->high).s);
}

static void cell_chance(const struct row *r, struct text *out)
{
    text_addf(out, "%.2f", sureness_shown(r->line->chance));
}

static void cell_sure(const struct row *r, struct text *out)
{
    text_add(out, sure(r->line));
}

static void cell_share(const struct row *r, struct text *out)
{
    text_addf(out, "%.0f %%", 100 * r->line->share);
}

static void cell_anyway(const struct row *r, struct text *out)
{
    text_add(out, format_signed_change(r->line->frame, r->range, r->change->effect_anyway).s);
}

static void cell_shuffled(const struct row *r, struct text *out)
{
    double chance = r->answer->ranking.items[r->line->first].permutation_chance;

    if (!isnan(chance))
        text_addf(out, "%.3f", chance);
}

static bool asked_anyway(const struct rank_answer *a)
{
    return a->anyway;
}

static bool asked_shuffled(const struct rank_answer *a)
{
    return a->shuffled;
}

static const struct {
    struct page_column head;
    bool (*when)(const struct rank_answer *a); /* NULL: always there */
    bool of_change;                            /* empty where the line has no single change */
    void (*cell)(const struct row *r, struct text *out);
} columns[] = {
    {.head = {.title = "", .right = true}, .cell = cell_place},
    {.head = {.title = "what was changed"}, .cell = cell_name},
    {.head = {.title = "from – to"}, .of_change = true, .cell = cell_step},
    {.head = {.title = "change", .right = true}, .of_change = true, .cell = cell_change},
    {.head = {.title = "could be (" INTERVAL_WORDS ")", .right = true},
     .of_change = true,
     .cell = cell_interval},
    {.head = {.title = "chance", .right = true}, .cell = cell_chance},
    {.head = {.title = "how sure"}, .cell = cell_sure},
    {.head = {.title = "share", .right = true, .rank = 1}, .cell = cell_share},
    {.head = {.title = "weighed", .right = true, .rank = 2},
     .when = asked_anyway,
     .of_change = true,
     .cell = cell_anyway},
    {.head = {.title = "by shuffling", .right = true, .rank = 3},
     .when = asked_shuffled,
     .cell = cell_shuffled},
};
enum { COLUMNS = sizeof columns / sizeof *columns };

/* The columns of this answer, as indexes into the table above. */
static size_t pick_columns(const struct rank_answer *a, size_t picked[COLUMNS])
{
    size_t count = 0;

    for (size_t c = 0; c < COLUMNS; c++)
        if (columns[c].when == NULL || columns[c].when(a))
            picked[count++] = c;
    return count;
}

static void add_row(const struct rank_answer *a, const struct rank_line *line, const size_t *picked,
                    struct block *t)
{
    struct row r = {a, line, line->change, a->ranking.range};
    const char *key = a->data.frame.columns[a->ranking.items[line->first].column].key;
    size_t row = page_table_row(t, key, NULL, 0);

    if (r.change != NULL)
        r.range = format_fine_range(r.range, r.change->low, r.change->high);
    for (size_t i = 0; i < t->column_count; i++) {
        struct text cell = {0};

        if (r.change != NULL || !columns[picked[i]].of_change)
            columns[picked[i]].cell(&r, &cell);
        page_table_cell(t, row, i, "%s", text_str(&cell));
        text_free(&cell);
    }
}

static void add_table(const struct rank_answer *a, struct page *p)
{
    size_t picked[COLUMNS], count = pick_columns(a, picked);
    struct page_column heads[COLUMNS];
    struct block *t;

    for (size_t i = 0; i < count; i++)
        heads[i] = columns[picked[i]].head;
    t = page_add_table(p, heads, count);
    for (size_t i = 0; i < a->line_count; i++)
        add_row(a, &a->lines[i], picked, t);
    page_add(p, BLOCK_TEXT,
             "%.0f %% of the differences between results stay unexplained. How sure: clear from "
             "%.2f, likely from %.2f, a hint from %.2f.",
             100 * a->ranking.unexplained, SURE_CLEAR_FROM, SURE_LIKELY_FROM, SURE_HINT_FROM);
}

/* Categories of three levels and more: every level against the commonest. */
static void add_levels(const struct rank_answer *a, const struct ranked *v, struct page *p)
{
    const struct frame *f = &a->data.frame;
    double range = a->ranking.range;
    struct text s = {0};

    if (v->level_count < 3)
        return;
    text_addf(&s, "%s, level by level: ", f->columns[v->column].label);
    for (size_t i = 0; i < v->level_count; i++) {
        const struct ranked_level *l = &v->levels[i];

        text_addf(&s, "%s%s ", i > 0 ? "; " : "", format_level(f, v->column, (double)l->level).s);
        if (l->reference)
            text_add(&s, "is what the others are held against");
        else
            text_addf(&s, "%s, %s … %s", format_signed_change(f, range, l->effect).s,
                      format_signed_change(f, range, l->low).s,
                      format_signed_change(f, range, l->high).s);
        text_addf(&s, " (%zu)", l->coupons);
    }
    text_add(&s, ". In brackets: coupons.");
    page_take(p, BLOCK_ITEM, &s);
}

/* The low or high end of a column as the interaction has it: smaller number, first level. */
static struct phrase end_of(const struct rank_answer *a, size_t column, bool high)
{
    size_t i = 0;

    while (a->ranking.items[i].column != column)
        i++;
    assert(i < a->ranking.count);
    return format_level(&a->data.frame, column,
                        (high ? fmax : fmin)(a->ranking.items[i].from, a->ranking.items[i].to));
}

static void add_interaction(const struct rank_answer *a, const struct interaction *c,
                            struct page *p)
{
    const struct frame *f = &a->data.frame;
    struct phrase other = format_label(f->columns[c->b].label);
    struct text s = {0};

    text_addf(&s, "What %s does depends on %s: %s with %s %s, %s with %s; %s (chance %.2f).",
              format_label(f->columns[c->a].label).s, other.s,
              format_signed_change(f, a->ranking.range, c->a_at_low).s, other.s,
              end_of(a, c->b, false).s, format_signed_change(f, a->ranking.range, c->a_at_high).s,
              end_of(a, c->b, true).s, sureness_word(sureness_of(c->chance)),
              sureness_shown(c->chance));
    if (c->same_as != INTERACTIONS_ALONE)
        text_add(&s, " These coupons cannot tell it from the pair named before it.");
    page_take(p, BLOCK_ITEM, &s);
}

static void add_interactions(const struct rank_answer *a, struct page *p)
{
    bool begun = false;

    for (size_t i = 0; a->has_interactions && i < a->interactions.count; i++) {
        if (a->interactions.pairs[i].chance < SURE_HINT_FROM)
            continue;
        if (!begun)
            page_add(p, BLOCK_HEADING, "What works only together");
        begun = true;
        add_interaction(a, &a->interactions.pairs[i], p);
    }
}

void rank_page(const struct rank_answer *a, struct page *p)
{
    const struct frame *f = &a->data.frame;

    page_add(p, BLOCK_TITLE, "What made the difference: %s (trial %s)", f->result_label,
             a->data.trial.name);
    add_answer(a, p);
    add_runners_up(a, p);
    add_table(a, p);
    for (size_t i = 0; i < a->ranking.count; i++)
        add_levels(a, &a->ranking.items[i], p);
    add_interactions(a, p);
    rank_page_notes(a, p);
    if (a->next.count > 0) {
        struct text s = {0};

        next_sentence(f, a->ranking.range, &a->next.coupons[0], &s);
        page_add(p, BLOCK_HEADING, "What to weld next");
        page_take(p, BLOCK_ITEM, &s);
    }
    cautions_add(p);
}
