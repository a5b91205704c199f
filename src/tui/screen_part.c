#include <stdlib.h>

#include "app/actions.h"
#include "base/mem.h"
#include "tui/edit.h"
#include "tui/hints.h"
#include "tui/part.h"
#include "tui/screens.h"

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

static int take(void *owner, const struct field *field, const char *text, struct intake *in)
{
    struct part_screen *p = owner;
    int rc = coupon_set_part(p->coupon, &p->rows[field->index], p->base, text, in);

    if (rc == 0 && !intake_asks(in))
        p->changed = true;
    return rc;
}

static const struct edit_owner part_edit = {take, fill};

static void draw(struct canvas *c, const void *state)
{
    const struct part_screen *p = state;
    struct board board = {.title = p->title,
                          .keys = "Enter write · Left Right choose · Esc back to the card"};
    enum tone tone;
    char *words = form_words(&p->form, &tone);

    ui_words(p->ui, &board, words);
    if (p->ui->words[0] == '\0')
        board.tone = tone;
    form_draw(c, board_draw(c, &board), &p->form);
    free(words);
}

/* The program has to end: what stands in the line is taken, if it can be. */
static void take_line(struct part_screen *p)
{
    struct intake in = {.units = p->ui->session.units, .sure = true};

    if (p->form.writing)
        take(p, form_field(&p->form), line_text(&p->form.line), &in);
}

bool screen_part(struct ui *ui, const char *title, struct coupon *c, const struct part_row *rows,
                 void *base)
{
    struct part_screen p = {.ui = ui, .title = title, .coupon = c, .rows = rows, .base = base};
    struct layer layer;

    fill(&p);
    ui_push(ui, &layer, draw, &p);
    for (;;) {
        struct key k = ui_key(ui);
        enum form_event event = edit_key(ui, &p.form, &part_edit, &p, k, ui_body().rows);

        if (k.code == PRESS_GONE)
            take_line(&p);
        if (k.code == PRESS_GONE || (event == FORM_UNUSED && k.code == PRESS_ESC))
            break;
    }
    ui_pop(ui);
    form_free(&p.form);
    return p.changed;
}
