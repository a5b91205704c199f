#include "calc/page.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "page/cautions.h"

void calc_kinds_page(struct page *p)
{
    struct block *table;

    page_add(p, BLOCK_TITLE, "What can be worked out");
    table = PAGE_TABLE(p, {.title = "Kind"}, {.title = ""});
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        PAGE_ROW(table, NULL, calc_kind_at(i)->name, calc_kind_at(i)->summary);
    page_add(p, BLOCK_TEXT, "'coldlap calc KIND --help' shows arguments, formulas and sources.");
}

/* "20 to 30", "solid|cored", "mm; usually 6": what an argument may hold. */
static void add_values(struct text *t, const struct calc_argument *a)
{
    const struct unit *unit = calc_unit(a->dimension, a->unit);

    if (a->type == CALC_CHOICE)
        text_add(t, a->choices);
    else if (a->type == CALC_QUANTITY && unit != NULL &&
             (a->dimension != DIM_SHARE || a->unit != NULL))
        text_addf(t, "in %s", unit->key);
    if (a->usual != NULL)
        text_addf(t, "%s%s if not said", t->length > 0 ? "; " : "", a->usual);
}

static void add_arguments(const struct calc_kind *kind, struct page *p)
{
    struct block *table = PAGE_TABLE(p, {.title = "Argument"}, {.title = "Takes"}, {.title = ""});

    for (const struct calc_argument *a = kind->arguments; a->key != NULL; a++) {
        struct text values = {0};

        add_values(&values, a);
        PAGE_ROW(table, NULL, a->key, text_str(&values), a->help);
        text_free(&values);
    }
}

void calc_kind_page(const struct calc_kind *kind, struct page *p)
{
    page_add(p, BLOCK_TITLE, "coldlap calc %s KEY=VALUE... - %s", kind->name, kind->summary);
    page_add(p, BLOCK_TEXT, "Give %s.", kind->needs);
    add_arguments(kind, p);
    page_add(p, BLOCK_HEADING, "Figures");
    for (const struct calc_output *o = kind->outputs; o->key != NULL; o++)
        page_add(p, BLOCK_ITEM, "%s (%s): %s; %s", o->label, o->key, o->formula, o->source);
    page_add(p, BLOCK_TEXT, "Holds for: %s", kind->range);
    page_add(p, BLOCK_TEXT,
             "A value takes the unit above, or carries its own: thickness=5/16in. Behind it may "
             "stand how far the reading can be off: volts=20+-0.5.");
    page_add(p, BLOCK_TEXT, "Example: coldlap calc %s %s", kind->name, kind->example);
}

static void add_inputs(const struct calc_answer *a, struct page *p)
{
    struct text t = {0};

    for (size_t i = 0; i < a->input_count; i++) {
        const struct calc_input *input = &a->inputs[i];
        char figures[48];

        text_from_figures(figures, sizeof figures, input->value, 4);
        text_addf(&t, "%s%s ", i > 0 ? ", " : "", input->key);
        if (input->text[0] == ' ') /* read off other arguments: only its ± was written */
            text_addf(&t, "%s%s", figures, input->text);
        else
            text_addf(&t, "%s%s", input->text, input->given ? "" : " (usual)");
    }
    if (t.length > 0)
        page_add(p, BLOCK_TEXT, "From %s", text_str(&t));
    text_free(&t);
}

static void add_figures(const struct calc_answer *a, struct page *p)
{
    struct block *table;

    if (a->figure_count == 0)
        return;
    table = PAGE_TABLE(p, {.title = "Figure"}, {.title = "", .right = true});
    for (size_t i = 0; i < a->figure_count; i++)
        if (!a->figures[i].twin)
            PAGE_ROW(table, NULL, a->figures[i].label, a->figures[i].shown);
}

static void add_sources(const struct calc_answer *a, struct page *p)
{
    if (a->figure_count > 0)
        page_add(p, BLOCK_HEADING, "Worked out by");
    for (size_t i = 0; i < a->figure_count; i++) {
        const struct calc_figure *f = &a->figures[i];

        if (!f->twin)
            page_add(p, BLOCK_ITEM, "%s: %s; %s", f->label, f->formula, f->source);
    }
}

static void add_reasons(const struct calc_answer *a, struct page *p)
{
    for (size_t i = 0; i < a->figure_count; i++)
        if (a->figures[i].why != NULL && !a->figures[i].twin)
            page_add(p, BLOCK_ITEM, "%s: %s", a->figures[i].label, a->figures[i].why);
    for (size_t i = 0; i < a->note_count; i++)
        page_add(p, BLOCK_ITEM, "%s", a->notes[i]);
}

void calc_answer_page(const struct calc_answer *a, struct page *p)
{
    page_add(p, BLOCK_TITLE, "%s", a->kind->summary);
    for (size_t i = 0; i < a->word_count; i++)
        page_add(p, BLOCK_ANSWER, "%s: %s", a->words[i].label, a->words[i].text);
    add_inputs(a, p);
    add_figures(a, p);
    add_reasons(a, p);
    add_sources(a, p);
    if (a->kind->permission)
        cautions_add(p);
}
