/* Lists as pages: coupons of a trial, trials, variables. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/cautions.h"
#include "app/derived.h"
#include "app/differences.h"
#include "app/strength_reached.h"
#include "app/tasks.h"
#include "base/text.h"
#include "model/quantity.h"

enum { SHOWN = 160 };

static void list_row(const struct session *s, const struct coupon *c, const struct coupon *before,
                     const struct variable *result, struct block *t)
{
    char when[40], shown[SHOWN], *changed = differences_since(&s->variables, c, before);
    size_t row = page_table_row(t, c->mark);

    clock_format_short(when, sizeof when, c->when);
    coupon_result(s, c, result, shown, sizeof shown);
    page_table_cell(t, row, 0, "%s", c->mark);
    page_table_cell(t, row, 1, "%s", when);
    page_table_cell(t, row, 2, "%s", changed);
    if (c->struck_why != NULL)
        page_table_cell(t, row, 3, "struck out: %s", c->struck_why);
    else
        page_table_cell(t, row, 3, "%s", shown);
    free(changed);
}

int task_list_page(struct session *s, const struct trial *t, bool with_struck, struct page *p,
                   struct error *e)
{
    const struct variable *result = task_result(s, t, NULL, e);
    const struct coupon *before = NULL;
    struct coupon_list list;
    struct block *table;

    if (result == NULL || task_coupons(s, t, with_struck, &list, e) < 0)
        return -1;
    page_add(p, BLOCK_TITLE, "Trial %s: %zu coupon%s", t->name, list.count,
             list.count == 1 ? "" : "s");
    if (t->question != NULL)
        page_add(p, BLOCK_TEXT, "%s", t->question);
    table = page_add_table(p);
    page_table_column(table, "mark", false, 0);
    page_table_column(table, "welded", false, 1);
    page_table_column(table, "changed since the one before", false, 0);
    page_table_column(table, result->label, false, 0);
    for (size_t i = 0; i < list.count; i++) {
        list_row(s, &list.items[i], before, result, table);
        if (list.items[i].struck_why == NULL)
            before = &list.items[i];
    }
    coupon_list_free(&list);
    return 0;
}

/* The weld strength the trial's own coupons show, where they can show any. */
static void add_strength(struct session *s, const struct trial *t, struct page *p)
{
    struct coupon_list list;
    struct hinge_fit fit;
    char words[320];

    if (task_coupons(s, t, false, &list, NULL) < 0)
        return;
    fit = strength_reached(&list);
    strength_sentence(words, sizeof words, &fit, s->units);
    coupon_list_free(&list);
    if (*words == '\0')
        return;
    page_add(p, BLOCK_TEXT, "%s", words);
    page_add(p, BLOCK_CAUTION, "%s", caution_scope);
}

void trial_page(struct session *s, const struct trial *t, struct page *p)
{
    char stop[64];

    page_add(p, BLOCK_TITLE, "Trial %s", t->name);
    if (t->question != NULL)
        page_add(p, BLOCK_TEXT, "Question: %s", t->question);
    page_add(p, BLOCK_ITEM, "Judged by %s.", t->result == NULL ? "bend_angle" : t->result);
    if (!isnan(t->stop_deg)) {
        quantity_format(stop, sizeof stop, t->stop_deg, DIM_ANGLE, s->units);
        page_add(p, BLOCK_ITEM, "Folding ends at %s.", stop);
    }
    for (size_t i = 0; i < t->set_count; i++) {
        const struct variable *v = variable_find(&s->variables, t->sets[i].variable);
        struct text levels = {0};

        for (size_t j = 0; j < t->sets[i].count; j++)
            text_addf(&levels, "%s%s", j == 0 ? "" : ", ", t->sets[i].levels[j]);
        page_add(p, BLOCK_ITEM, "%s: %s.", v == NULL ? t->sets[i].variable : v->label,
                 text_str(&levels));
        text_free(&levels);
    }
    if (t->note != NULL)
        page_add(p, BLOCK_TEXT, "Note: %s", t->note);
    add_strength(s, t, p);
}

int task_trials_page(struct session *s, struct page *p, struct error *e)
{
    struct trial_list list;
    struct block *t;

    if (task_trials(s, &list, e) < 0)
        return -1;
    page_add(p, BLOCK_TITLE, "%zu trial%s in %s", list.count, list.count == 1 ? "" : "s",
             book_path(s->book));
    if (list.count > 0) {
        t = page_add_table(p);
        page_table_column(t, "trial", false, 0);
        page_table_column(t, "judged by", false, 0);
        page_table_column(t, "question", false, 0);
        for (size_t i = 0; i < list.count; i++) {
            const struct trial *trial = &list.items[i];
            size_t row = page_table_row(t, trial->name);

            page_table_cell(t, row, 0, "%s", trial->name);
            page_table_cell(t, row, 1, "%s", trial->result ? trial->result : "bend_angle");
            page_table_cell(t, row, 2, "%s", trial->question ? trial->question : "");
        }
    }
    trial_list_free(&list);
    return 0;
}

static const char *kind_of(const struct variable *v)
{
    if (v->group == GROUP_DERIVED)
        return "worked out";
    return v->role == ROLE_RESULT ? "result" : v->kind == VARIABLE_CATEGORY ? "category" : "number";
}

void variables_page(const struct session *s, struct page *p)
{
    struct block *t;

    page_add(p, BLOCK_TITLE, "What can be said about a coupon");
    t = page_add_table(p);
    page_table_column(t, "key", false, 0);
    page_table_column(t, "kind", false, 0);
    page_table_column(t, "unit", false, 0);
    page_table_column(t, "what it is", false, 0);
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        size_t row = page_table_row(t, v->key);

        page_table_cell(t, row, 0, "%s", v->key);
        page_table_cell(t, row, 1, "%s%s", v->own ? "own " : "", kind_of(v));
        page_table_cell(t, row, 2, "%s",
                        v->kind == VARIABLE_NUMBER ? variable_unit(v, s->units) : "");
        page_table_cell(t, row, 3, "%s", v->help == NULL ? v->label : v->help);
    }
}

/* A wire classed for a single pass, welded in several (AWS A5.20: E71T-GS [from memory]). */
static void ask_about_wire(const struct coupon *c, struct page *p)
{
    const struct value *wire = coupon_value(c, "wire_class");
    double passes = measure_point(coupon_measure(c, "passes"));

    if (wire != NULL && wire->text != NULL && passes > 1 &&
        (strstr(wire->text, "T-GS") != NULL || strstr(wire->text, "TGS") != NULL))
        page_add(p, BLOCK_ITEM,
                 "%s is classed for a single pass; this coupon has %.0f. Is that "
                 "meant?",
                 wire->text, passes);
}

/* What was answered for the coupon before, and has not changed since, is not asked again. */
static bool asked_before(const struct coupon *c, const struct coupon *last, const char *key)
{
    const struct value *now = coupon_value(c, key);

    return last != NULL && now != NULL && value_same(now, coupon_value(last, key));
}

static void ask_about_limits(const struct session *s, const struct coupon *c,
                             const struct coupon *last, struct page *p)
{
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        double x = v->kind == VARIABLE_NUMBER ? measure_point(coupon_measure(c, v->key)) : NAN;
        char why[256];

        if (!isnan(x) && !asked_before(c, last, v->key) &&
            variable_judge(v, x, s->units, why, sizeof why) != VALUE_USUAL)
            page_add(p, BLOCK_ITEM, "%s", why);
    }
}

static void ask_about_changes(const struct session *s, const struct coupon *c,
                              const struct coupon *last, struct page *p)
{
    struct differences d = differences_between(&s->variables, c, last);
    char *words = differences_sentence(&d, last->mark);

    if (d.count > 1)
        page_add(p, BLOCK_ITEM, "%s; what each did cannot be told from these two alone.", words);
    free(words);
    differences_free(&d);
}

void coupon_questions(const struct session *s, const struct coupon *c, const struct coupon *last,
                      struct page *p)
{
    ask_about_limits(s, c, last, p);
    ask_about_wire(c, p);
    if (last != NULL)
        ask_about_changes(s, c, last, p);
}
