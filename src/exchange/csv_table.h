/*
 * A CSV file as a plain table of texts. Reads UTF-8 (a byte order mark is skipped) with LF or CRLF,
 * quoted cells with separators, quotes and line breaks in them, and comma, semicolon or tab between
 * cells, found from the header. What does not hold to that is refused with line and column.
 */
#ifndef EXCHANGE_CSV_TABLE_H
#define EXCHANGE_CSV_TABLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "base/error.h"
#include "base/text.h"

struct csv_row {
    size_t line;  /* where it begins in the file, from 1 */
    char **cells; /* outer white space cut off */
    size_t count, capacity;
};

struct csv_table {
    char separator;     /* ',' ';' or '\t' */
    bool decimal_comma; /* cells like "0,9" were seen between semicolons or tabs */
    struct csv_row header;
    struct csv_row *rows; /* rows without any filled cell are left out; a row may have more or
                             fewer cells than the header, which is for the reader to judge */
    size_t count, capacity;
};

/* Both return -1 with `out` empty: ERROR_INPUT, with line and column, for what is no text or no
 * such table, also an empty file or one of blank lines; ERROR_SYSTEM when reading fails. Otherwise
 * the caller frees with csv_table_free(). */
int csv_table_parse(const char *bytes, size_t length, struct csv_table *out, struct error *e);
/* All that is still to be read from `in`; more than 256 MiB is refused. */
int csv_table_read(FILE *in, struct csv_table *out, struct error *e);
void csv_table_free(struct csv_table *table);

/* The cell of a row, "" when the row ends before it. */
const char *csv_cell(const struct csv_row *row, size_t column);

/* Appends one line; cells are quoted where they need it. A NULL cell is empty. */
void csv_add_row(struct text *out, const char *const *cells, size_t count);

#endif
