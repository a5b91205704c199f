/*
 * An answer as an abstract page: sentences, tables, cautions. It is made once in app/ and shown
 * twice, as text by the command line and in cells by the screens, so that both say the same.
 *
 * A page owns its strings. Start with `struct page p = {0};`, release with page_free().
 */
#ifndef PAGE_PAGE_H
#define PAGE_PAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"

enum block_kind {
    BLOCK_TITLE,  /* what the page is about; once */
    BLOCK_ANSWER, /* the one plain sentence on top */
    BLOCK_HEADING,
    BLOCK_TEXT,
    BLOCK_ITEM, /* one of several, with a dash */
    BLOCK_TABLE,
    BLOCK_CAUTION,
};

struct page_column {
    const char *title;
    bool right; /* numbers */
    int rank;   /* 0: always shown; the highest rank is left out first when the page is narrow */
};

struct page_row {
    char **cells; /* one a column */
    char *target; /* what opening this row leads to: a variable's key, a coupon's mark; or NULL */
};

struct block {
    enum block_kind kind;
    char *text; /* all but tables */
    struct page_column *columns;
    size_t column_count;
    struct page_row *rows;
    size_t row_count, row_capacity;
};

struct page {
    struct block *blocks;
    size_t count, capacity;
};

void page_add(struct page *p, enum block_kind kind, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void page_take(struct page *p, enum block_kind kind, struct text *text); /* leaves `text` empty */
/* Titles are copied. The table is valid until the next block is added. */
struct block *page_add_table(struct page *p, const struct page_column *columns, size_t count);
/* A new row of `count` cells, at most one a column; the others, and those that are NULL, are empty.
 * Returns its index. */
size_t page_table_row(struct block *table, const char *target, const char *const *cells,
                      size_t count);
/* The same with columns and cells written out:
 *     table = PAGE_TABLE(p, {.title = "mark"}, {.title = "result", .right = true});
 *     PAGE_ROW(table, coupon->mark, coupon->mark, result);
 */
#define PAGE_TABLE(p, ...)                                                                         \
    page_add_table(p, (const struct page_column[]){__VA_ARGS__},                                   \
                   sizeof((const struct page_column[]){__VA_ARGS__}) / sizeof(struct page_column))
#define PAGE_ROW(table, target, ...)                                                               \
    page_table_row(table, target, (const char *const[]){__VA_ARGS__},                              \
                   sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *))
void page_table_cell(struct block *table, size_t row, size_t column, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
void page_free(struct page *p);

/* The page broken into lines of at most `width` cells. */
struct page_line {
    char *text;
    enum block_kind kind;
    bool head;          /* the head line of a table */
    const char *target; /* of the table row this line begins, else NULL; belongs to the page */
};

struct page_lines {
    struct page_line *items;
    size_t count, capacity;
};

void page_layout(const struct page *p, int width, struct page_lines *out);
void page_lines_free(struct page_lines *lines);

#endif
