/* Words about keys, made from the actions table (app/actions.h). */
#ifndef TUI_HINTS_H
#define TUI_HINTS_H

#include <stdbool.h>
#include <stddef.h>

#include "app/actions.h"
#include "tui/key.h"

/* "Enter open · n new coupon · ? keys · q quit", as much as fits into `columns`; the last two stay
 * to the end. Caller frees. */
char *hint_line(int place, int columns);
/* The action a key has at a place; NULL when it has none. */
const struct action *hint_action(struct key k, int place);
/* True when that action has this id. */
bool hint_is(const struct action *a, const char *id);

#endif
