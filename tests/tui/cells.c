#include "cells.h"

#include <check.h>
#include <curses.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tui/term/term.h"

static FILE *nowhere;
static SCREEN *screen;

struct canvas cells_begin(int columns, int rows)
{
    if (screen == NULL) {
        nowhere = fopen("/dev/null", "r+");
        screen = newterm("vt100", nowhere, nowhere);
        ck_assert_ptr_nonnull(screen);
    }
    term_resize(columns, rows);
    return canvas_begin(false, true);
}

void cells_end(void)
{
    endwin();
    delscreen(screen);
    fclose(nowhere);
    screen = NULL;
}

void cells_assert_row(int row, const char *wanted)
{
    wchar_t wide[400] = L"";
    char text[1600] = "";

    mvinnwstr(row, 0, wide, 399);
    wcstombs(text, wide, sizeof text - 1);
    for (size_t end = strlen(text); end > 0 && text[end - 1] == ' '; end--)
        text[end - 1] = '\0';
    ck_assert_str_eq(text, wanted);
}
