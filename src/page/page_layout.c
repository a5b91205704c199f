/*
 * Breaking a page into lines. Text is wrapped at spaces; a table that is too wide first loses its
 * columns of the highest rank, then wraps its widest left-aligned column onto further lines.
 */
#include "page/page.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"

enum {
    GAP = 2,           /* cells between two columns */
    LEAST_WRAPPED = 8, /* a column is not made narrower */
};

static void add_line(struct page_lines *out, enum block_kind kind, struct text *text)
{
    struct page_line *line;

    while (text->length > 0 && text->s[text->length - 1] == ' ')
        text->s[--text->length] = '\0';
    out->items = array_reserve(out->items, &out->capacity, out->count + 1, sizeof *out->items);
    line = &out->items[out->count++];
    memset(line, 0, sizeof *line);
    line->text = text_steal(text);
    line->kind = kind;
}

/* Bytes of `s` that go on a line of `width` cells, broken at a space where there is one. */
static size_t line_bytes(const char *s, int width)
{
    size_t fits = text_fit(s, width > 0 ? width : 1), at;
    const char *newline = memchr(s, '\n', fits);

    if (newline != NULL)
        return (size_t)(newline - s);
    if (s[fits] == '\0' || s[fits] == ' ' || s[fits] == '\n')
        return fits;
    for (at = fits; at > 0 && s[at] != ' '; at--)
        ;
    if (at > 0)
        return at;
    return fits > 0 ? fits : 1;
}

static const char *next_start(const char *s, size_t used)
{
    s += used;
    if (*s == '\n')
        return s + 1;
    while (*s == ' ')
        s++;
    return s;
}

static void wrap(struct page_lines *out, enum block_kind kind, const char *s, int width,
                 const char *first, const char *rest)
{
    const char *lead = first;

    do {
        struct text line = {0};
        size_t bytes = line_bytes(s, width - text_width(lead));

        text_add(&line, lead);
        text_add_part(&line, s, bytes);
        add_line(out, kind, &line);
        s = next_start(s, bytes);
        lead = rest;
    } while (*s != '\0');
}

enum { LEFT_OUT = -1 }; /* width of a column that is not shown */

static int column_width(const struct block *b, size_t c)
{
    int width = text_width(b->columns[c].title);

    for (size_t r = 0; r < b->row_count; r++)
        if (text_width(b->rows[r].cells[c]) > width)
            width = text_width(b->rows[r].cells[c]);
    return width;
}

/* Cells the shown columns take, gaps between them included. */
static int total_width(const struct block *b, const int *widths)
{
    int total = -GAP;

    for (size_t c = 0; c < b->column_count; c++)
        if (widths[c] != LEFT_OUT)
            total += widths[c] + GAP;
    return total;
}

/* The shown column of the highest rank above 0, the last of them; or column_count. */
static size_t least_wanted(const struct block *b, const int *widths)
{
    size_t found = b->column_count;
    int rank = 1;

    for (size_t c = 0; c < b->column_count; c++)
        if (widths[c] != LEFT_OUT && b->columns[c].rank >= rank) {
            rank = b->columns[c].rank;
            found = c;
        }
    return found;
}

/* The widest of the shown columns that are not numbers; or column_count. */
static size_t widest_wrapping(const struct block *b, const int *widths)
{
    size_t found = b->column_count;
    int widest = LEFT_OUT;

    for (size_t c = 0; c < b->column_count; c++)
        if (!b->columns[c].right && widths[c] > widest) {
            widest = widths[c];
            found = c;
        }
    return found;
}

/* How wide each column is drawn; the caller frees the widths. */
static int *plan_table(const struct block *b, int width)
{
    int *widths = mem_zero(b->column_count, sizeof *widths);
    size_t c;

    for (c = 0; c < b->column_count; c++)
        widths[c] = column_width(b, c);
    while (total_width(b, widths) > width && (c = least_wanted(b, widths)) < b->column_count)
        widths[c] = LEFT_OUT;
    c = widest_wrapping(b, widths);
    if (total_width(b, widths) > width && c < b->column_count) {
        int rest = widths[c] - (total_width(b, widths) - width);

        widths[c] = rest < LEAST_WRAPPED ? LEAST_WRAPPED : rest;
    }
    return widths;
}

static void pad(struct text *line, int cells)
{
    while (cells-- > 0)
        text_add(line, " ");
}

static void add_cell(struct text *line, const char *s, size_t bytes, int width, bool right)
{
    char *part = mem_copy_part(s, bytes);
    int space = width - text_width(part);

    if (right)
        pad(line, space);
    text_add(line, part);
    if (!right)
        pad(line, space);
    free(part);
}

/* One row, or the titles (NULL), on as many lines as the wrapped cells need. */
static void lay_row(const struct block *b, const int *widths, const struct page_row *row,
                    struct page_lines *out)
{
    const char **rest = mem_zero(b->column_count, sizeof *rest);
    size_t first = out->count;
    bool more = true;

    for (size_t c = 0; c < b->column_count; c++)
        rest[c] = row == NULL ? b->columns[c].title : row->cells[c];
    while (more) {
        struct text line = {0};
        int gap = 0;

        more = false;
        for (size_t c = 0; c < b->column_count; c++) {
            size_t bytes = line_bytes(rest[c], widths[c]);

            if (widths[c] == LEFT_OUT)
                continue;
            pad(&line, gap);
            add_cell(&line, rest[c], bytes, widths[c], b->columns[c].right);
            rest[c] = next_start(rest[c], bytes);
            more = more || *rest[c] != '\0';
            gap = GAP;
        }
        add_line(out, BLOCK_TABLE, &line);
    }
    out->items[first].head = row == NULL;
    out->items[first].target = row == NULL ? NULL : row->target;
    free(rest);
}

static bool has_titles(const struct block *b)
{
    for (size_t c = 0; c < b->column_count; c++)
        if (*b->columns[c].title != '\0')
            return true;
    return false;
}

static void lay_table(const struct block *b, int width, struct page_lines *out)
{
    int *widths = plan_table(b, width);

    if (has_titles(b))
        lay_row(b, widths, NULL, out);
    for (size_t r = 0; r < b->row_count; r++)
        lay_row(b, widths, &b->rows[r], out);
    free(widths);
}

/* A blank line stands before a block, except between two of a run. */
static bool blank_before(const struct page *p, size_t i)
{
    enum block_kind kind = p->blocks[i].kind, before;

    if (i == 0)
        return false;
    before = p->blocks[i - 1].kind;
    if (before == BLOCK_HEADING)
        return false;
    return !(kind == before && (kind == BLOCK_ITEM || kind == BLOCK_TEXT || kind == BLOCK_CAUTION));
}

void page_layout(const struct page *p, int width, struct page_lines *out)
{
    memset(out, 0, sizeof *out);
    for (size_t i = 0; i < p->count; i++) {
        const struct block *b = &p->blocks[i];

        if (blank_before(p, i))
            wrap(out, BLOCK_TEXT, "", width, "", "");
        if (b->kind == BLOCK_TABLE)
            lay_table(b, width, out);
        else if (b->kind == BLOCK_ITEM)
            wrap(out, b->kind, b->text, width, "- ", "  ");
        else if (b->kind == BLOCK_CAUTION)
            wrap(out, b->kind, b->text, width, "! ", "  ");
        else
            wrap(out, b->kind, b->text, width, "", "");
    }
}

void page_lines_free(struct page_lines *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        free(lines->items[i].text);
    free(lines->items);
    memset(lines, 0, sizeof *lines);
}
