#include "tui/screen/page.h"

#include "tui/widget/page_view.h"

struct page_screen {
    const struct ui *ui;
    const char *title, *caution;
    struct view view;
};

static void draw(struct canvas *c, const void *state)
{
    const struct page_screen *p = state;
    struct screen_layout layout = {
        .title = p->title, .context = CONTEXT_PAGE, .caution = p->caution};

    ui_words(p->ui, &layout, NULL, TONE_PLAIN);
    view_draw(c, screen_layout_draw(c, &layout), &p->view);
}

void screen_page(struct ui *ui, const char *title, struct page *page, const char *caution)
{
    struct page_screen p = {.ui = ui, .title = title, .caution = caution};
    struct layer layer;
    struct key k;

    view_set(&p.view, page);
    ui_push(ui, &layer, draw, NULL, &p);
    do {
        k = ui_key(ui);
        view_key(&p.view, k, ui_body());
    } while (k.code != PRESS_GONE && ui_action(ui, k, CONTEXT_PAGE) != ACTION_LEAVE);
    ui_pop(ui);
    view_free(&p.view);
}
