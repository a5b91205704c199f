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

    if (l->focus < top)
        top = l->focus;
    if (l->focus >= top + visible)
        top = l->focus - visible + 1;
    if (l->count >= visible && top + visible > l->count)
        top = l->count - visible;
    if (l->count < visible)
        top = 0;
    return top;
}

void list_focus(struct list *l, size_t at, int rows)
{
    l->focus = at;
    list_resize(l, l->count);
    l->top = list_top(l, rows);
}

static size_t back(size_t at, size_t by)
{
    return at < by ? 0 : at - by;
}

bool list_key(struct list *l, struct key k, int rows)
{
    size_t page = rows < 2 ? 1 : (size_t)rows - 1;

    switch (k.code) {
    case PRESS_UP:
        list_focus(l, back(l->focus, 1), rows);
        return true;
    case PRESS_DOWN:
        list_focus(l, l->focus + 1, rows);
        return true;
    case PRESS_PAGE_UP:
        list_focus(l, back(l->focus, page), rows);
        return true;
    case PRESS_PAGE_DOWN:
        list_focus(l, l->focus + page, rows);
        return true;
    case PRESS_HOME:
        list_focus(l, 0, rows);
        return true;
    case PRESS_END:
        list_focus(l, back(l->count, 1), rows);
        return true;
    default:
        return false;
    }
}

static void draw_row(struct canvas *c, struct area row, const struct list *l,
                     list_row_painter *paint_row, const void *owner, size_t at)
{
    bool focused = at == l->focus;
    enum tone tone = focused ? TONE_FOCUS : TONE_PLAIN;

    paint_blank(c, row, tone);
    paint_text(c, row.y, row.x, 2, tone, focused ? "> " : "  ");
    if (focused)
        paint_cursor(c, row.y, row.x); /* unless the row itself puts it elsewhere */
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
