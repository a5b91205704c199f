#include "tui/screen/part.h"

#include <assert.h>
#include <stdlib.h>

#include "tui/widget/form_edit.h"
#include "tui/widget/part_form.h"

static const struct part_row *rows_of(const struct part_screen *p)
{
    return part_tables[p->id].rows;
}

static void *base_of(const struct part_screen *p)
{
    return part_item(p->coupon, p->id, p->index);
}

static void fill(void *owner)
{
    struct part_screen *p = owner;

    form_begin(&p->form);
    part_fill(&p->form, rows_of(p), base_of(p), p->ui->session.units, 0);
    form_end(&p->form);
}

static int set_from_text(void *owner, const struct field *field, const char *text,
                         struct intake *in)
{
    struct part_screen *p = owner;
    int rc = coupon_set_part(p->coupon, &rows_of(p)[field->index], base_of(p), text, in);

    if (rc == 0 && !intake_asks(in))
        p->written = true;
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

void screen_part(struct part_screen *p)
{
    struct layer layer;
    struct key k;
    enum form_event event;

    assert(p->index < part_count(p->coupon, p->id));
    fill(p);
    form_find(&p->form, 0, p->row);
    if (p->writing != NULL)
        form_write(&p->form, p->writing);
    ui_push(p->ui, &layer, draw, NULL, p);
    do {
        k = ui_key(p->ui);
        event = edit_key(p->ui, &p->form, &part_edit, p, k, ui_body().rows);
    } while (k.code != PRESS_GONE &&
             (event != FORM_UNUSED || ui_action(p->ui, k, CONTEXT_PART) != ACTION_LEAVE));
    ui_pop(p->ui);
    form_free(&p->form);
}
