#include "tui/term/dump.h"

#include <curses.h>
#include <stdio.h>
#include <wchar.h>

#include "base/file_out.h"
#include "tui/term/term.h"

/* Lines drawn in the alternate character set are read back as letters. */
static wchar_t line_sign(wchar_t ch)
{
    return ch == L'q' ? L'-' : ch == L'x' ? L'|' : wcschr(L"lkmjtuvwn", ch) != NULL ? L'+' : ch;
}

static wchar_t cell_character(int y, int x, attr_t *attributes, short *pair)
{
    wchar_t text[CCHARW_MAX + 1] = L" ";
    cchar_t cell;

    *attributes = A_NORMAL;
    *pair = 0;
    if (mvin_wch(y, x, &cell) == ERR || getcchar(&cell, text, attributes, pair, NULL) == ERR)
        return L' ';
    return *attributes & A_ALTCHARSET ? line_sign(text[0]) : text[0];
}

static void dump_row(FILE *out, int y)
{
    wchar_t row[TERM_MAX_COLUMNS + 1] = L"";
    int columns = COLS, length;
    attr_t attributes;
    short pair;

    mvinnwstr(y, 0, row, columns);
    length = (int)wcslen(row);
    if (length == columns) /* no wide characters: cells and characters agree */
        for (int x = 0; x < columns; x++)
            row[x] = cell_character(y, x, &attributes, &pair);
    while (length > 0 && row[length - 1] == L' ')
        row[--length] = L'\0';
    fprintf(out, "%ls\n", row);
}

static char look_letter(int y, int x)
{
    short pair, colour = 0, behind;
    attr_t attributes;

    cell_character(y, x, &attributes, &pair);
    if (pair > 0 && pair_content(pair, &colour, &behind) == OK)
        return (char)('0' + colour % 10);
    if (attributes & A_REVERSE)
        return attributes & A_BOLD ? 'R' : 'r';
    return attributes & A_BOLD ? 'b' : '.';
}

static void dump_looks(FILE *out, int cursor_y, int cursor_x)
{
    fputs("---\n", out);
    for (int y = 0; y < LINES; y++) {
        for (int x = 0; x < COLS; x++)
            fputc(look_letter(y, x), out);
        fputc('\n', out);
    }
    fprintf(out, "cursor %d %d\n", cursor_y, cursor_x);
}

int dump_screen(const char *path, const char *book, bool replace, bool looks, struct error *e)
{
    struct file_out file;
    int y, x;

    if (file_open(&file, path, book, replace, e) < 0)
        return -1;
    getyx(stdscr, y, x);
    for (int row = 0; row < LINES; row++)
        dump_row(file.out, row);
    if (looks)
        dump_looks(file.out, y, x);
    move(y, x);
    return file_close(&file, e);
}
