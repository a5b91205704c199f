/* Words for quantities that cannot be taken: what was written, and what would be right. */
#ifndef MODEL_REFUSE_H
#define MODEL_REFUSE_H

#include <stddef.h>

#include "base/error.h"
#include "model/units.h"

enum { QUOTE_SIZE = 128 };

/* The text as far as it is worth repeating, on one line and safe on a terminal. Returns `out`. */
const char *quote_text(char out[QUOTE_SIZE], const char *text);

/* "a|b|c" as "a, b, c". Caller frees. */
char *list_choices(const char *choices);

/* These return -1 with ERROR_INPUT set. */

/* The text is no quantity of this kind at all. */
int refuse_form(struct error *e, const char *text, enum dimension dimension);
/* There is a number, but `unit` is not one of the dimension: names the units that are. */
int refuse_unit(struct error *e, const char *text, const char *unit, size_t length,
                enum dimension dimension);

#endif
