/* What the terminal database says about a type of terminal. */
#ifndef TUI_TERM_TYPE_H
#define TUI_TERM_TYPE_H

#include "base/error.h"

/* 0 when a terminal of this type (as in TERM; NULL or "": none was named) can show screens; else
 * -1 with what is missing. Nothing is written to the terminal. */
int term_type_check(const char *type, struct error *e);

#endif
