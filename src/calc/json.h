#ifndef CALC_JSON_H
#define CALC_JSON_H

#include "calc/answer.h"

/* One JSON object, "schema": 1: every figure under its key, null when NAN; then "figures" and
 * "inputs" with units, ±, formula and source, "notes", and "caution" where a figure could be taken
 * for permission. Caller frees. */
char *calc_json(const struct calc_answer *a);

#endif
