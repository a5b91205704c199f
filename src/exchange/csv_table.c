/*
 * Reading goes byte by byte through libcsv, which has no notion of lines: the place in the file is
 * counted here, so that every row and every message can name its line.
 */
#include "exchange/csv_table.h"

#include <csv.h>
#include <ctype.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"

static const size_t largest_file = (size_t)256 << 20;

static void row_free(struct csv_row *row)
{
    for (size_t i = 0; i < row->count; i++)
        free(row->cells[i]);
    free(row->cells);
    memset(row, 0, sizeof *row);
}

void csv_table_free(struct csv_table *table)
{
    row_free(&table->header);
    for (size_t i = 0; i < table->count; i++)
        row_free(&table->rows[i]);
    free(table->rows);
    memset(table, 0, sizeof *table);
}

const char *csv_cell(const struct csv_row *row, size_t column)
{
    return column < row->count ? row->cells[column] : "";
}

/* The state of reading. */
struct place {
    struct csv_table *table;
    struct csv_row row;  /* being filled */
    size_t line, column; /* of the byte being read, from 1; columns count characters */
    bool inside;         /* a row has begun */
};

static void cell_done(void *cell, size_t length, void *data)
{
    struct place *p = data;

    p->row.cells =
        array_reserve(p->row.cells, &p->row.capacity, p->row.count + 1, sizeof *p->row.cells);
    p->row.cells[p->row.count++] = text_trim(mem_copy_part(cell == NULL ? "" : cell, length));
}

static bool filled(const struct csv_row *row)
{
    for (size_t i = 0; i < row->count; i++)
        if (row->cells[i][0] != '\0')
            return true;
    return false;
}

static void row_done(int terminator, void *data)
{
    struct place *p = data;
    struct csv_table *t = p->table;

    (void)terminator;
    p->inside = false;
    if (!filled(&p->row)) {
        row_free(&p->row);
        return;
    }
    if (t->header.count == 0) {
        t->header = p->row;
    } else {
        t->rows = array_reserve(t->rows, &t->capacity, t->count + 1, sizeof *t->rows);
        t->rows[t->count++] = p->row;
    }
    memset(&p->row, 0, sizeof p->row);
}

/* Refuses what is not text before any of it is split into cells. */
static int check_text(const char *s, size_t length, struct error *e)
{
    size_t line = 1, column = 1, good = text_valid_length(s);

    if (length >= 2 && (memcmp(s, "\xff\xfe", 2) == 0 || memcmp(s, "\xfe\xff", 2) == 0))
        return error_set(e, ERROR_INPUT, "the file is UTF-16; save it as UTF-8");
    while (s[good] == '\r')
        good += 1 + text_valid_length(s + good + 1);
    if (good == length)
        return 0;
    for (size_t i = 0; i < good; i++) {
        column = s[i] == '\n' ? 1 : column + ((s[i] & 0xc0) != 0x80);
        line += s[i] == '\n';
    }
    if (s[good] == '\0')
        return error_set(e, ERROR_INPUT,
                         "line %zu, column %zu: a zero byte; this is not a text file", line,
                         column);
    if ((unsigned char)s[good] < 0x80)
        return error_set(e, ERROR_INPUT,
                         "line %zu, column %zu: a control character (0x%02x), which no text holds; "
                         "take it out",
                         line, column, (unsigned char)s[good]);
    return error_set(e, ERROR_INPUT,
                     "line %zu, column %zu: byte 0x%02x is not UTF-8 text; save the file as UTF-8",
                     line, column, (unsigned char)s[good]);
}

/* The most frequent separator outside quotes in the first line that is not empty. */
static char find_separator(const char *s, size_t length)
{
    static const char candidates[] = {',', ';', '\t'};
    size_t seen[sizeof candidates] = {0}, best = 0, at = 0;
    bool quoted = false;

    while (at < length && strchr("\r\n", s[at]) != NULL)
        at++;
    for (; at < length && (quoted || strchr("\r\n", s[at]) == NULL); at++) {
        quoted = s[at] == '"' ? !quoted : quoted;
        for (size_t i = 0; i < sizeof candidates && !quoted; i++)
            seen[i] += s[at] == candidates[i];
    }
    for (size_t i = 1; i < sizeof candidates; i++)
        best = seen[i] > seen[best] ? i : best;
    return candidates[best];
}

static void step(struct place *p, char c)
{
    if (!p->inside && c != '\n' && c != '\r') {
        p->inside = true;
        p->row.line = p->line;
    }
}

static void advance(struct place *p, char c)
{
    p->column = c == '\n' ? 1 : p->column + ((c & 0xc0) != 0x80);
    p->line += c == '\n';
}

static int split(struct csv_parser *parser, struct place *p, const char *s, size_t length,
                 struct error *e)
{
    for (size_t i = 0; i < length; i++) {
        step(p, s[i]);
        if (csv_parse(parser, s + i, 1, cell_done, row_done, p) != 1)
            return error_set(e, ERROR_INPUT,
                             "line %zu, column %zu: a quote in the wrong place; put the whole cell "
                             "in quotes and write every quote in it twice",
                             p->line, p->column);
        advance(p, s[i]);
    }
    if (csv_fini(parser, cell_done, row_done, p) != 0)
        return error_set(e, ERROR_INPUT, "line %zu: a quote opened in this row is never closed",
                         p->row.line);
    return 0;
}

/* "0,9": nothing but digits on both sides of one comma. */
static bool has_decimal_comma(const char *s)
{
    const char *comma = strchr(s, ',');

    if (comma == NULL || comma == s || !isdigit((unsigned char)comma[-1]))
        return false;
    s += *s == '-' || *s == '+';
    return s + strspn(s, "0123456789") == comma && isdigit((unsigned char)comma[1]) &&
           strchr(comma + 1, ',') == NULL;
}

static bool find_decimal_comma(const struct csv_table *t)
{
    if (t->separator == ',')
        return false;
    for (size_t i = 0; i < t->count; i++)
        for (size_t j = 0; j < t->rows[i].count; j++)
            if (has_decimal_comma(t->rows[i].cells[j]))
                return true;
    return false;
}

int csv_table_parse(const char *bytes, size_t length, struct csv_table *out, struct error *e)
{
    struct place p = {.table = out, .line = 1, .column = 1};
    struct csv_parser parser;
    char *copy = NULL;
    const char *s;
    int rc = -1;

    memset(out, 0, sizeof *out);
    csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI);
    copy = mem_zero(length + 1, 1); /* closed by a NUL, which the text check relies on */
    if (length > 0)
        memcpy(copy, bytes, length);
    s = length >= 3 && memcmp(copy, "\xef\xbb\xbf", 3) == 0 ? copy + 3 : copy;
    length -= (size_t)(s - copy);
    if (check_text(s, length, e) != 0)
        goto cleanup;
    out->separator = find_separator(s, length);
    csv_set_delim(&parser, (unsigned char)out->separator);
    if (split(&parser, &p, s, length, e) != 0)
        goto cleanup;
    out->decimal_comma = find_decimal_comma(out);
    rc =
        out->header.count > 0
            ? 0
            : error_set(e, ERROR_INPUT, "the file is empty; its first row should name the columns");
cleanup:
    csv_free(&parser);
    row_free(&p.row);
    free(copy);
    if (rc != 0)
        csv_table_free(out);
    return rc;
}

static int read_all(FILE *file, struct text *out, struct error *e)
{
    char block[65536];
    size_t got;

    while ((got = fread(block, 1, sizeof block, file)) > 0) {
        text_add_part(out, block, got);
        if (out->length > largest_file)
            return error_set(e, ERROR_INPUT, "larger than 256 MiB; split it");
    }
    if (ferror(file))
        return error_set(e, ERROR_SYSTEM, "cannot be read: %s", strerror(errno));
    return 0;
}

int csv_table_read(FILE *in, struct csv_table *out, struct error *e)
{
    struct text all = {0};
    int rc;

    memset(out, 0, sizeof *out);
    rc = read_all(in, &all, e);
    if (rc == 0)
        rc = csv_table_parse(text_str(&all), all.length, out, e);
    text_free(&all);
    return rc;
}

/* Quoted where a reader would otherwise split or trim it. */
static bool needs_quotes(const char *cell)
{
    size_t length = strlen(cell);

    return strpbrk(cell, ",;\"\r\n\t") != NULL ||
           (length > 0 && (cell[0] == ' ' || cell[length - 1] == ' '));
}

void csv_add_row(struct text *out, const char *const *cells, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const char *cell = cells[i] == NULL ? "" : cells[i];
        bool quotes = needs_quotes(cell);

        text_add(out, i > 0 ? "," : "");
        text_add(out, quotes ? "\"" : "");
        for (size_t part; *cell != '\0'; cell += part) {
            part = strcspn(cell, "\"");
            text_add_part(out, cell, part);
            if (cell[part] == '"')
                text_add(out, "\"\"");
            part += cell[part] == '"';
        }
        text_add(out, quotes ? "\"" : "");
    }
    text_add(out, "\n");
}
