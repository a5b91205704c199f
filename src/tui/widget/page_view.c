#include "tui/widget/page_view.h"

#include <string.h>

enum { MARGIN = 4 }; /* the list's own marks on both sides */

static const enum tone tones[] = {
    [BLOCK_TITLE] = TONE_TITLE,     [BLOCK_ANSWER] = TONE_TITLE, [BLOCK_HEADING] = TONE_HEADING,
    [BLOCK_TEXT] = TONE_PLAIN,      [BLOCK_ITEM] = TONE_PLAIN,   [BLOCK_TABLE] = TONE_PLAIN,
    [BLOCK_CAUTION] = TONE_CAUTION,
};

static void lay_out(const struct view *v, struct area body, struct page_lines *lines)
{
    page_layout(&v->page, body.columns - MARGIN, lines);
}

void view_set(struct view *v, struct page *page)
{
    page_free(&v->page);
    v->page = *page;
    memset(page, 0, sizeof *page);
}

void view_free(struct view *v)
{
    page_free(&v->page);
}

/* The cursor does not stop on empty lines: the next one that is not empty. */
static size_t past_empty(const struct page_lines *lines, size_t at, bool back)
{
    size_t from = at;

    while (at < lines->count && lines->items[at].text[0] == '\0')
        at += back ? (size_t)-1 : 1;
    return at < lines->count ? at : from;
}

void view_key(struct view *v, struct key k, struct area body)
{
    struct page_lines lines;
    size_t before = v->list.focus;

    lay_out(v, body, &lines);
    list_resize(&v->list, lines.count);
    list_key(&v->list, k, body.rows);
    list_focus(&v->list, past_empty(&lines, v->list.focus, v->list.focus < before), body.rows);
    page_lines_free(&lines);
}

const char *view_target(const struct view *v, struct area body)
{
    struct page_lines lines;
    const char *target = NULL;

    lay_out(v, body, &lines);
    if (v->list.focus < lines.count)
        target = lines.items[v->list.focus].target;
    page_lines_free(&lines);
    return target;
}

static void draw_line(struct canvas *c, struct area row, const void *owner, size_t at, bool focused)
{
    const struct page_line *line = &((const struct page_lines *)owner)->items[at];

    paint_text(c, row.y, row.x, row.columns,
               focused      ? TONE_FOCUS
               : line->head ? TONE_HEADING
                            : tones[line->kind],
               line->text);
}

void view_draw(struct canvas *c, struct area body, const struct view *v)
{
    struct page_lines lines;
    struct list list = v->list;

    lay_out(v, body, &lines);
    list_resize(&list, lines.count);
    list_draw(c, body, &list, draw_line, &lines);
    page_lines_free(&lines);
}
