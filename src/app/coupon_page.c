#include "app/coupon_page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "derived/coupon_figures.h"
#include "derived/derived.h"
#include "model/quantity.h"
#include "model/variable_key.h"
#include "page/cautions.h"
#include "store/trials.h"

enum { SHOWN = 160 };

static const char *ending(const struct coupon *c, const struct measure *m)
{
    if (m->kind != MEASURE_EXACT)
        return "";
    return c->bend.end == BEND_BROKE ? "broke at " : c->bend.end == BEND_TORE ? "tore at " : "";
}

void coupon_result(const struct session *s, const struct coupon *c, const struct variable *result,
                   char *out, size_t size)
{
    struct measure m = coupon_measure(c, result->key);
    bool angle = strcmp(result->key, KEY_BEND_ANGLE) == 0;
    char shown[128];

    if (m.kind == MEASURE_MISSING) {
        snprintf(out, size, "%s", angle ? "not bent yet" : "–");
        return;
    }
    measure_show(shown, sizeof shown, m, result, s->units);
    snprintf(out, size, "%s%s", angle ? ending(c, &m) : "", shown);
}

static bool group_has_value(const struct session *s, const struct coupon *c,
                            enum variable_group group)
{
    for (size_t i = 0; i < s->variables.count; i++)
        if (s->variables.items[i].group == group &&
            coupon_value(c, s->variables.items[i].key) != NULL)
            return true;
    return false;
}

static void add_group(const struct session *s, const struct coupon *c, enum variable_group group,
                      struct block *t)
{
    const char *name = variable_group_name(group);

    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        char shown[SHOWN];

        if (v->group != group || coupon_value(c, v->key) == NULL)
            continue;
        value_show(shown, sizeof shown, coupon_value(c, v->key), v, s->units);
        PAGE_ROW(t, v->key, name, v->label, shown);
        name = "";
    }
}

static void add_values(const struct session *s, const struct coupon *c, struct page *p)
{
    struct block *t = PAGE_TABLE(p, {.title = "", .rank = 1}, {.title = "set-up"}, {.title = ""});

    for (int g = 0; g < GROUP_RESULT; g++)
        if (group_has_value(s, c, (enum variable_group)g))
            add_group(s, c, (enum variable_group)g, t);
}

/* A quantity in the book's units, or a dash. */
static void cell(struct block *t, size_t row, size_t column, double value, enum dimension d,
                 enum unit_system units)
{
    char shown[SHOWN];

    if (isnan(value))
        snprintf(shown, sizeof shown, "–");
    else
        quantity_format(shown, sizeof shown, value, d, units);
    page_table_cell(t, row, column, "%s", shown);
}

static void add_passes(const struct session *s, const struct coupon *c, struct page *p)
{
    struct block *t;

    if (c->pass_count == 0)
        return;
    page_add(p, BLOCK_HEADING, "Passes");
    t = PAGE_TABLE(p, {.title = "pass", .right = true}, {.title = "side", .right = true},
                   {.title = "arc", .right = true}, {.title = "length", .right = true},
                   {.title = "volts", .right = true}, {.title = "amps", .right = true},
                   {.title = "wire feed", .right = true}, {.title = "start", .right = true},
                   {.title = "pause", .right = true, .rank = 1});
    for (size_t i = 0; i < c->pass_count; i++) {
        const struct pass *pass = &c->passes[i];
        size_t row = page_table_row(t, NULL, NULL, 0);

        page_table_cell(t, row, 0, "%d", pass->number);
        page_table_cell(t, row, 1, pass->side == 0 ? "–" : "%d", pass->side);
        cell(t, row, 2, pass->arc_s, DIM_TIME, s->units);
        cell(t, row, 3, pass->length_mm, DIM_LENGTH, s->units);
        cell(t, row, 4, pass->volts, DIM_VOLTAGE, s->units);
        cell(t, row, 5, pass->amps, DIM_CURRENT, s->units);
        cell(t, row, 6, pass->feed_mm_per_min, DIM_SPEED, s->units);
        cell(t, row, 7, pass->start_c, DIM_TEMPERATURE, s->units);
        cell(t, row, 8, pass->pause_s, DIM_TIME, s->units);
    }
}

static void add_flaws(const struct session *s, const struct coupon *c, struct page *p)
{
    struct block *t;

    if (!c->face_read && c->flaw_count == 0)
        return;
    page_add(p, BLOCK_HEADING, "Broken face");
    if (c->flaw_count == 0) {
        page_add(p, BLOCK_ITEM, "Read, no flaw found.");
        return;
    }
    t = PAGE_TABLE(p, {.title = "from", .right = true}, {.title = "to", .right = true},
                   {.title = "ISO 6520-1", .right = true}, {.title = "flaw"}, {.title = "note"});
    for (size_t i = 0; i < c->flaw_count; i++) {
        const struct flaw *f = &c->flaws[i];
        const struct flaw_kind *kind = flaw_kind_find(f->iso6520);
        size_t row = PAGE_ROW(t, NULL, NULL, NULL, NULL, kind == NULL ? "" : kind->name, f->note);

        cell(t, row, 0, f->from_mm, DIM_LENGTH, s->units);
        cell(t, row, 1, f->to_mm, DIM_LENGTH, s->units);
        page_table_cell(t, row, 2, "%d", f->iso6520);
    }
}

static void add_results(const struct session *s, const struct coupon *c, struct page *p)
{
    page_add(p, BLOCK_HEADING, "Results");
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        char shown[SHOWN];

        if (v->role != ROLE_RESULT)
            continue;
        if (v->kind == VARIABLE_NUMBER)
            coupon_result(s, c, v, shown, sizeof shown);
        else
            coupon_show(shown, sizeof shown, c, v, s->units);
        if (strcmp(v->key, KEY_BEND_ANGLE) == 0 || (strcmp(shown, "–") != 0 && *shown != '\0'))
            page_add(p, BLOCK_ITEM, "%s: %s", v->label, shown);
    }
}

static void add_figures(const struct session *s, const struct coupon *c, struct page *p)
{
    struct coupon_figures figures;
    struct block *t;

    coupon_figures(c, s->units, &figures);
    if (figures.count > 0) {
        page_add(p, BLOCK_HEADING, "Figures");
        t = PAGE_TABLE(p, {.title = ""}, {.title = "", .right = true}, {.title = "", .rank = 1});
        for (size_t i = 0; i < figures.count; i++) {
            const struct calc_figure *f = &figures.items[i].figure;
            size_t row;

            if (f->twin)
                continue;
            row = PAGE_ROW(t, NULL, f->label, f->shown, f->source);
            if (figures.items[i].pass > 0)
                page_table_cell(t, row, 0, "%s, pass %d", f->label, figures.items[i].pass);
            if (f->outside)
                page_table_cell(t, row, 1, "%s (outside range)", f->shown);
        }
    }
    for (size_t i = 0; i < figures.note_count; i++)
        page_add(p, BLOCK_ITEM, "%s", figures.notes[i]);
    coupon_figures_free(&figures);
}

static void add_photos(const struct coupon *c, struct page *p)
{
    for (size_t i = 0; i < c->photo_count; i++) {
        const struct photo *photo = &c->photos[i];

        if (photo->sha256 == NULL)
            page_add(p, BLOCK_ITEM, "Photograph %s", photo->path);
        else
            page_add(p, BLOCK_ITEM, "Photograph %s (SHA-256 %.12s…)", photo->path, photo->sha256);
    }
}

/* "Coupon 03 (trial bench tee)": marks are each trial's own. */
static void add_title(const struct session *s, const struct coupon *c, struct page *p)
{
    struct trial_list all = {0};
    const struct trial *trial = NULL;
    char when[40];

    if (trials_load_all(s->book, &all, NULL) == 0)
        trial = trial_list_with_id(&all, c->trial);
    clock_format_short(when, sizeof when, c->when);
    page_add(p, BLOCK_TITLE, "Coupon %s%s%s%s, welded %s%s%s", c->mark,
             trial != NULL ? " (trial " : "", trial != NULL ? trial->name : "",
             trial != NULL ? ")" : "", when, c->who ? " by " : "", c->who ? c->who : "");
    trial_list_free(&all);
}

void coupon_page(const struct session *s, const struct coupon *c, struct page *p)
{
    add_title(s, c, p);
    if (c->struck_why != NULL)
        page_add(p, BLOCK_ANSWER, "Struck out: %s. It does not count.", c->struck_why);
    add_results(s, c, p);
    add_values(s, c, p);
    add_passes(s, c, p);
    add_flaws(s, c, p);
    add_figures(s, c, p);
    if (c->note != NULL && *c->note != '\0')
        page_add(p, BLOCK_TEXT, "Note: %s", c->note);
    add_photos(c, p);
    cautions_add(p);
}
