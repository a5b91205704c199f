/*
 * Breaking a page into lines. Text is wrapped at spaces; a table that is too wide first loses its
 * columns of the highest rank, then wraps its widest left-aligned column onto further lines.
 */
#include "page/page.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"

enum { GAP = 2 }; /* cells between two columns */

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

/* A table as it will be drawn: which columns, how wide. */
struct plan {
    bool *shown;
    int *width;
    int total;
};

static int column_width(const struct block *b, size_t c)
{
    int width = text_width(b->columns[c].title);

    for (size_t r = 0; r < b->row_count; r++)
        if (text_width(b->rows[r].cells[c]) > width)
            width = text_width(b->rows[r].cells[c]);
    return width;
}

static void sum_widths(const struct block *b, struct plan *plan)
{
    plan->total = -GAP;
    for (size_t c = 0; c < b->column_count; c++)
        if (plan->shown[c])
            plan->total += plan->width[c] + GAP;
}

/* The shown column of the highest rank above 0, or column_count. */
static size_t least_wanted(const struct block *b, const struct plan *plan)
{
    size_t found = b->column_count;

    for (size_t c = 0; c < b->column_count; c++)
        if (plan->shown[c] && b->columns[c].rank > 0 &&
            (found == b->column_count || b->columns[c].rank >= b->columns[found].rank))
            found = c;
    return found;
}

static size_t widest_wrapping(const struct block *b, const struct plan *plan)
{
    size_t found = b->column_count;

    for (size_t c = 0; c < b->column_count; c++)
        if (plan->shown[c] && !b->columns[c].right &&
            (found == b->column_count || plan->width[c] > plan->width[found]))
            found = c;
    return found;
}

static void plan_table(const struct block *b, int width, struct plan *plan)
{
    size_t c;

    plan->shown = mem_zero(b->column_count, sizeof *plan->shown);
    plan->width = mem_zero(b->column_count, sizeof *plan->width);
    for (c = 0; c < b->column_count; c++) {
        plan->shown[c] = true;
        plan->width[c] = column_width(b, c);
    }
    sum_widths(b, plan);
    while (plan->total > width && (c = least_wanted(b, plan)) < b->column_count) {
        plan->shown[c] = false;
        sum_widths(b, plan);
    }
    if (plan->total > width && (c = widest_wrapping(b, plan)) < b->column_count) {
        int space = plan->width[c] - (plan->total - width);

        plan->width[c] = space < 8 ? 8 : space;
        sum_widths(b, plan);
    }
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

/* One row, on as many lines as its wrapped cells need. Returns the index of its first line. */
static size_t lay_row(const struct block *b, const struct plan *plan, char *const cells[],
                      struct page_lines *out)
{
    size_t first = out->count;
    const char **rest = mem_zero(b->column_count, sizeof *rest);
    bool more = true;

    for (size_t c = 0; c < b->column_count; c++)
        rest[c] = cells[c];
    while (more) {
        struct text line = {0};
        bool begun = false;

        more = false;
        for (size_t c = 0; c < b->column_count; c++) {
            size_t bytes;

            if (!plan->shown[c])
                continue;
            bytes = line_bytes(rest[c], plan->width[c]);
            if (bytes > strlen(rest[c]))
                bytes = strlen(rest[c]);
            pad(&line, begun ? GAP : 0);
            add_cell(&line, rest[c], bytes, plan->width[c], b->columns[c].right);
            rest[c] = *rest[c] == '\0' ? rest[c] : next_start(rest[c], bytes);
            more = more || *rest[c] != '\0';
            begun = true;
        }
        add_line(out, BLOCK_TABLE, &line);
    }
    free(rest);
    return first;
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
    struct plan plan = {0};
    char **titles = mem_zero(b->column_count, sizeof *titles);
    size_t first;

    for (size_t c = 0; c < b->column_count; c++)
        titles[c] = b->columns[c].title;
    plan_table(b, width, &plan);
    if (has_titles(b)) {
        first = lay_row(b, &plan, titles, out);
        out->items[first].head = true;
    }
    for (size_t r = 0; r < b->row_count; r++) {
        first = lay_row(b, &plan, b->rows[r].cells, out);
        out->items[first].target = b->rows[r].target;
    }
    free(titles);
    free(plan.shown);
    free(plan.width);
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
