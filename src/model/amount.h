/* Numbers as a shop writes them: 5/16, 1-1/4, 1 1/4, 1¼, .045, 1,2. */
#ifndef MODEL_AMOUNT_H
#define MODEL_AMOUNT_H

#include <stdbool.h>

/*
 * Reads one at `s` and sets *end behind it. *fraction tells whether it was written as a fraction.
 * False, and nothing set, when there is none or a denominator is 0.
 */
bool amount_read(const char *s, const char **end, double *value, bool *fraction);

#endif
