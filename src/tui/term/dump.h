/* The screen as text: what is in the cells, and how it looks. */
#ifndef TUI_TERM_DUMP_H
#define TUI_TERM_DUMP_H

#include <stdbool.h>

#include "base/error.h"

/*
 * Writes the rows of the screen to a file, spaces at the end of a row cut off. With `looks`, a line
 * "---" follows, then a letter a cell ('.' plain, 'b' bold, 'r' reverse, 'R' both, or the digit of
 * a colour), then "cursor ROW COLUMN", counted from 0. `book` and `replace`,
 * and what is refused, as for file_open() (base/file_out.h).
 */
int dump_screen(const char *path, const char *book, bool replace, bool looks, struct error *e);

#endif
