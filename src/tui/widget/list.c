#include "tui/widget/list.h"

void list_resize(struct list *l, size_t count)
{
    l->count = count;
    if (l->focus >= count)
        l->focus = count == 0 ? 0 : count - 1;
}

size_t list_top(const struct list *l, int rows)
{
    size_t visible = rows < 1 ? 1 : (size_t)rows, top = l->top;

    if (l->count <= visible)
        return 0;
    if (l->focus < top)
        top = l->focus;
    if (l->focus >= top + visible)
        top = l->focus - visible + 1;
    return top > l->count - visible ? l->count - visible : top;
}

void list_focus(struct list *l, size_t at, int rows)
{
    l->focus = at;
    list_resize(l, l->count);
    l->top = list_top(l, rows);
}

bool list_key(struct list *l, struct key k, int rows)
{
    size_t page = rows < 2 ? 1 : (size_t)rows - 1, by;

    switch (k.code) {
    case PRESS_UP:
    case PRESS_DOWN:
        by = 1;
        break;
    case PRESS_PAGE_UP:
    case PRESS_PAGE_DOWN:
        by = page;
        break;
    case PRESS_HOME:
    case PRESS_END:
        by = l->count;
        break;
    default:
        return false;
    }
    if (k.code == PRESS_DOWN || k.code == PRESS_PAGE_DOWN || k.code == PRESS_END)
        list_focus(l, l->focus + by, rows);
    else
        list_focus(l, l->focus < by ? 0 : l->focus - by, rows);
    return true;
}

static void draw_row(struct canvas *c, struct area row, const struct list *l,
                     list_row_painter *paint_row, const void *owner, size_t at)
{
    bool focused = at == l->focus;
    enum tone tone = focused ? TONE_FOCUS : TONE_PLAIN;

    paint_blank(c, row, tone);
    paint_text(c, row.y, row.x, 2, tone, focused ? "> " : "  ");
    if (focused)
        paint_cursor(c, row.y, row.x); /* unless the row itself moves it */
    paint_row(c, (struct area){row.y, row.x + 2, 1, row.columns - 4}, owner, at, focused);
}

void list_draw(struct canvas *c, struct area a, const struct list *l, list_row_painter *paint_row,
               const void *owner)
{
    size_t top = list_top(l, a.rows);

    paint_cursor(c, a.y, a.x);
    for (int i = 0; i < a.rows && top + (size_t)i < l->count; i++)
        draw_row(c, (struct area){a.y + i, a.x, 1, a.columns}, l, paint_row, owner,
                 top + (size_t)i);
    if (top > 0)
        paint_text(c, a.y, a.x + a.columns - 1, 1, TONE_QUIET, "^");
    if (top + (size_t)(a.rows > 0 ? a.rows : 0) < l->count)
        paint_text(c, a.y + a.rows - 1, a.x + a.columns - 1, 1, TONE_QUIET, "v");
}
