#include "tui/widget/line.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

void line_start(struct line *l, const char *text)
{
    memset(l, 0, sizeof *l);
    text_add(&l->text, text == NULL ? "" : text);
    l->at = l->text.length;
}

void line_free(struct line *l)
{
    text_free(&l->text);
    l->at = 0;
}

const char *line_text(const struct line *l)
{
    return text_str(&l->text);
}

static bool continues(const char *s)
{
    return ((unsigned char)*s & 0xc0) == 0x80;
}

static size_t next_code(const struct line *l, size_t at)
{
    const char *s = line_text(l);

    if (s[at] == '\0')
        return at;
    for (at++; continues(s + at); at++)
        ;
    return at;
}

static int width_between(const struct line *l, size_t from, size_t to)
{
    char *part = mem_copy_part(line_text(l) + from, to - from);
    int width = text_width(part);

    free(part);
    return width;
}

/* True when the code point at `at` takes no cell of its own. */
static bool combining(const struct line *l, size_t at)
{
    return width_between(l, at, next_code(l, at)) == 0;
}

static size_t next_character(const struct line *l, size_t at)
{
    at = next_code(l, at);
    while (line_text(l)[at] != '\0' && combining(l, at))
        at = next_code(l, at);
    return at;
}

static size_t character_before(const struct line *l, size_t at)
{
    while (at > 0) {
        for (at--; at > 0 && continues(line_text(l) + at); at--)
            ;
        if (!combining(l, at))
            break;
    }
    return at;
}

static void cut(struct line *l, size_t from, size_t to)
{
    assert(from <= to && to <= l->text.length);
    memmove(l->text.s + from, l->text.s + to, l->text.length - to + 1);
    l->text.length -= to - from;
    l->at = from;
}

static void insert(struct line *l, const char *bytes)
{
    char *behind;

    if (!text_valid(bytes) || l->text.length + strlen(bytes) > LINE_MAX_BYTES)
        return;
    behind = mem_copy(line_text(l) + l->at);
    l->text.length = l->at;
    text_add(&l->text, bytes);
    l->at = l->text.length;
    text_add(&l->text, behind);
    free(behind);
}

static void insert_character(struct line *l, wchar_t ch)
{
    char bytes[16];

    if (snprintf(bytes, sizeof bytes, "%lc", (wint_t)ch) > 0)
        insert(l, bytes);
}

static void control_key(struct line *l, wchar_t letter)
{
    if (letter == L'a')
        l->at = 0;
    else if (letter == L'e')
        l->at = l->text.length;
    else if (letter == L'u')
        cut(l, 0, l->at);
    else if (letter == L'k')
        cut(l, l->at, l->text.length);
}

void line_key(struct line *l, struct key k)
{
    if (k.code == PRESS_CHAR)
        insert_character(l, k.ch);
    else if (k.code == PRESS_PASTE)
        insert(l, k.text);
    else if (k.code == PRESS_CONTROL)
        control_key(l, k.ch);
    else if (k.code == PRESS_LEFT)
        l->at = character_before(l, l->at);
    else if (k.code == PRESS_RIGHT)
        l->at = next_character(l, l->at);
    else if (k.code == PRESS_HOME)
        l->at = 0;
    else if (k.code == PRESS_END)
        l->at = l->text.length;
    else if (k.code == PRESS_BACKSPACE)
        cut(l, character_before(l, l->at), l->at);
    else if (k.code == PRESS_DELETE)
        cut(l, l->at, next_character(l, l->at));
}

void line_draw(struct canvas *c, int y, int x, int columns, const struct line *l)
{
    size_t from = 0, bytes;
    char *part;

    while (width_between(l, from, l->at) > columns - 1 && from < l->at)
        from = next_character(l, from);
    bytes = text_fit(line_text(l) + from, columns);
    part = mem_copy_part(line_text(l) + from, bytes);
    paint_blank(c, (struct area){y, x, 1, columns}, TONE_FOCUS);
    paint_text(c, y, x, columns, TONE_FOCUS, part);
    paint_cursor(c, y, x + width_between(l, from, l->at));
    free(part);
}
