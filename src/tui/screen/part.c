#include "tui/screen/part.h"

#include <assert.h>
#include <stdlib.h>

#include "tui/widget/form_edit.h"
#include "tui/widget/part_form.h"

struct part_screen {
    struct ui *ui;
    const char *title;
    struct coupon *coupon;
    const struct part_row *rows;
    void *base;
    struct form form;
    bool changed;
};

static void fill(void *owner)
{
    struct part_screen *p = owner;

    form_begin(&p->form);
    part_fill(&p->form, p->rows, p->base, p->ui->session.units, 0);
    form_end(&p->form);
}

static int set_from_text(void *owner, const struct field *field, const char *text,
                         struct intake *in)
{
    struct part_screen *p = owner;
    int rc = coupon_set_part(p->coupon, &p->rows[field->index], p->base, text, in);

    if (rc == 0 && !intake_asks(in))
        p->changed = true;
    return rc;
}

static const struct edit_owner part_edit = {set_from_text, fill};

static void draw(struct canvas *c, const void *state)
{
    const struct part_screen *p = state;
    struct screen_layout layout = {.title = p->title, .context = CONTEXT_PART};
    enum tone tone;
    char *words = form_words(&p->form, &tone);

    ui_words(p->ui, &layout, words, tone);
    form_draw(c, screen_layout_draw(c, &layout), &p->form);
    free(words);
}

/* The program has to end: keeps the line being written if it is a valid value. */
static void set_from_line(struct part_screen *p)
{
    struct intake in = {.units = p->ui->session.units, .sure = true};

    if (p->form.writing)
        set_from_text(p, form_field(&p->form), line_text(&p->form.line), &in);
}

bool screen_part(struct ui *ui, const char *title, struct coupon *c, enum part_id id, size_t index)
{
    struct part_screen p = {.ui = ui,
                            .title = title,
                            .coupon = c,
                            .rows = part_tables[id].rows,
                            .base = part_item(c, id, index)};
    struct layer layer;

    assert(index < part_count(c, id));
    fill(&p);
    ui_push(ui, &layer, draw, &p);
    for (;;) {
        struct key k = ui_key(ui);
        enum form_event event = edit_key(ui, &p.form, &part_edit, &p, k, ui_body().rows);

        if (k.code == PRESS_GONE)
            set_from_line(&p);
        if (k.code == PRESS_GONE ||
            (event == FORM_UNUSED && ui_action(ui, k, CONTEXT_PART) == ACTION_LEAVE))
            break;
    }
    ui_pop(ui);
    form_free(&p.form);
    return p.changed;
}
