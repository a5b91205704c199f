/* A screen of curses without a terminal, drawn to /dev/null and read back cell by cell. */
#ifndef TESTS_TUI_CELLS_H
#define TESTS_TUI_CELLS_H

#include "tui/term/paint.h"

/* Starts it at this size, or changes its size; an empty canvas without colours, with UTF-8. */
struct canvas cells_begin(int columns, int rows);
void cells_end(void);
/* Ends the test unless the row is this text, spaces at its end cut. */
void cells_assert_row(int row, const char *wanted);

#endif
