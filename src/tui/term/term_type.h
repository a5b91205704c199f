/* What the terminal database says about a type of terminal. */
#ifndef TUI_TERM_TERM_TYPE_H
#define TUI_TERM_TERM_TYPE_H

#include <stddef.h>

#include "base/error.h"

/* 0 when a terminal of this type (as in TERM; NULL or "": none was named) can show screens; else
 * -1 with what is missing. Nothing is written to the terminal. */
int term_type_check(const char *type, struct error *e);

/* Not in any terminal description: what is pasted arrives as typed again. */
#define TERM_PASTE_OFF "\033[?2004l"

/* The bytes that put the terminal in use back into the state a shell expects: pastes no longer
 * bracketed, keypad and cursor as usual, alternate screen left. Writes at most `size` bytes without
 * a terminator and returns how many. Needs a started curses. */
size_t term_type_give_back(char *out, size_t size);

#endif
