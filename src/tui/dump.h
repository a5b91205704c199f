/* The screen as text: what is in the cells, and how it looks. */
#ifndef TUI_DUMP_H
#define TUI_DUMP_H

#include <stdbool.h>

#include "base/error.h"

/*
 * Writes the rows of the screen to a file, spaces at the end of a row cut off. With `looks`, a line
 * "---" follows, then a letter a cell ('.' plain, 'b' bold, 'r' reverse, 'R' both, or the digit of
 * a colour), then "cursor ROW COLUMN", counted from 0.
 */
int dump_screen(const char *path, bool looks, struct error *e);

#endif
