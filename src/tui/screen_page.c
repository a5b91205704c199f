/* Pages to be read: any page, and the one that says what every key does. */
#include <stdlib.h>

#include "app/actions.h"
#include "app/cautions.h"
#include "tui/hints.h"
#include "tui/screens.h"
#include "tui/view.h"

struct page_screen {
    const struct ui *ui;
    const char *title, *caution;
    struct view view;
};

static void draw(struct canvas *c, const void *state)
{
    const struct page_screen *p = state;
    struct board board = {.title = p->title,
                          .keys = "Up Down PageUp PageDown read · Esc back",
                          .caution = p->caution};

    ui_words(p->ui, &board, NULL);
    view_draw(c, board_draw(c, &board), &p->view);
}

void screen_page(struct ui *ui, const char *title, struct page *page, const char *caution)
{
    struct page_screen p = {.ui = ui, .title = title, .caution = caution};
    struct layer layer;
    struct key k;

    view_set(&p.view, page);
    ui_push(ui, &layer, draw, &p);
    do {
        k = ui_key(ui);
        view_key(&p.view, k, ui_body());
    } while (k.code != PRESS_ESC && k.code != PRESS_GONE && !key_is(k, L'q'));
    ui_pop(ui);
    view_free(&p.view);
}

static const struct {
    int places;
    const char *keys, *what;
} moves[] = {
    {PLACE_SCREENS, "Up, Down", "move by one line"},
    {PLACE_SCREENS, "PageUp, PageDown", "move by a screen"},
    {PLACE_SCREENS, "Home, End", "to the first, to the last line"},
    {PLACE_RACK, "Esc", "after finding: show all coupons again"},
    {PLACE_CARD, "Tab, Shift-Tab", "to the next, to the last part of the card"},
    {PLACE_CARD, "Left, Right", "the choice before, the next choice"},
    {PLACE_CARD, "0 to 9", "write a number at once, without Enter"},
    {PLACE_CARD, "Esc", "while writing: leave the value as it was"},
    {PLACE_CARD, "Ctrl-A, Ctrl-E", "while writing: to the start, to the end"},
    {PLACE_CARD, "Ctrl-U, Ctrl-K", "while writing: clear to the left, to the right"},
};

static void add_row(struct block *table, const char *key, const char *what)
{
    size_t row = page_table_row(table, NULL);

    page_table_cell(table, row, 0, "%s", key);
    page_table_cell(table, row, 1, "%s", what);
}

static void keys_page(int place, struct page *page)
{
    const struct action *a;
    struct block *table;

    page_add(page, BLOCK_TITLE, "What the keys do here");
    table = page_add_table(page);
    page_table_column(table, "key", false, 0);
    page_table_column(table, "what it does", false, 0);
    for (size_t i = 0; (a = action_at(i)) != NULL; i++)
        if ((a->places & place) != 0 && a->key != NULL)
            add_row(table, a->key, a->summary);
    for (size_t i = 0; i < sizeof moves / sizeof *moves; i++)
        if ((moves[i].places & place) != 0)
            add_row(table, moves[i].keys, moves[i].what);
    cautions_add_all(page);
}

void screen_keys(struct ui *ui, int place)
{
    struct page page = {0};

    keys_page(place, &page);
    screen_page(ui, "Keys", &page, NULL);
}

void switch_units(struct ui *ui)
{
    enum unit_system other = ui->session.units == UNITS_METRIC ? UNITS_INCH : UNITS_METRIC;
    struct error e = {0};

    if (session_read_only(&ui->session) != NULL)
        ui->session.units = other; /* for this run */
    else if (session_set_units(&ui->session, other, &e) < 0)
        ui_say_error(ui, &e);
    if (e.kind == ERROR_NONE)
        ui_say(ui, TONE_PLAIN, "Numbers are shown in %s units. Stored values did not change.",
               units_name(other));
}
