#include "page/page.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"

static struct block *add_block(struct page *p, enum block_kind kind)
{
    p->blocks = array_reserve(p->blocks, &p->capacity, p->count + 1, sizeof *p->blocks);
    p->blocks[p->count].kind = kind;
    return &p->blocks[p->count++];
}

void page_add(struct page *p, enum block_kind kind, const char *format, ...)
{
    va_list args;

    va_start(args, format);
    add_block(p, kind)->text = mem_vformat(format, args);
    va_end(args);
}

void page_take(struct page *p, enum block_kind kind, struct text *text)
{
    add_block(p, kind)->text = text_steal(text);
}

struct block *page_add_table(struct page *p, const struct page_column *columns, size_t count)
{
    struct block *table = add_block(p, BLOCK_TABLE);

    table->columns = mem_zero(count, sizeof *table->columns);
    table->column_count = count;
    for (size_t i = 0; i < count; i++) {
        table->columns[i] = columns[i];
        table->columns[i].title = mem_copy(columns[i].title);
    }
    return table;
}

size_t page_table_row(struct block *table, const char *target, const char *const *cells,
                      size_t count)
{
    struct page_row *row;

    assert(count <= table->column_count);
    table->rows =
        array_reserve(table->rows, &table->row_capacity, table->row_count + 1, sizeof *table->rows);
    row = &table->rows[table->row_count];
    row->cells = mem_zero(table->column_count, sizeof *row->cells);
    for (size_t i = 0; i < table->column_count; i++)
        row->cells[i] = mem_copy(i < count && cells[i] != NULL ? cells[i] : "");
    row->target = mem_copy(target);
    return table->row_count++;
}

void page_table_cell(struct block *table, size_t row, size_t column, const char *format, ...)
{
    va_list args;

    assert(row < table->row_count);
    assert(column < table->column_count);
    free(table->rows[row].cells[column]);
    va_start(args, format);
    table->rows[row].cells[column] = mem_vformat(format, args);
    va_end(args);
}

static void free_block(struct block *b)
{
    for (size_t r = 0; r < b->row_count; r++) {
        for (size_t c = 0; c < b->column_count; c++)
            free(b->rows[r].cells[c]);
        free(b->rows[r].cells);
        free(b->rows[r].target);
    }
    for (size_t c = 0; c < b->column_count; c++)
        free((char *)(uintptr_t)b->columns[c].title);
    free(b->rows);
    free(b->columns);
    free(b->text);
}

void page_free(struct page *p)
{
    for (size_t i = 0; i < p->count; i++)
        free_block(&p->blocks[i]);
    free(p->blocks);
    memset(p, 0, sizeof *p);
}
