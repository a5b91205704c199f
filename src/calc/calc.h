/*
 * The weld arithmetic as a shop asks for it, from the words of a command to an answer.
 *
 * Arguments are "key=value". A value carries its unit or takes the one the row names, whatever the
 * units of the book: volts=20, speed=300, speed=2.5mm/s, thickness=5/16in. Behind it may stand the
 * reading's own ±: volts=20±0.5, amps=140+-2%, "leg=6mm ± 0.5mm"; ±0 is exact. Without one the
 * row's usual reading error is taken. The ± are carried into the figures (weld/uncertainty.h).
 */
#ifndef CALC_CALC_H
#define CALC_CALC_H

#include "calc/answer.h"
#include "calc/kind.h"

const struct calc_kind *calc_kind_at(size_t i);           /* NULL behind the last */
const struct calc_kind *calc_kind_find(const char *name); /* NULL: no such kind */

/*
 * Works out one kind. Unknown kinds and arguments are ERROR_USAGE and name the right ones; a value
 * that cannot be read, or cannot be, is ERROR_INPUT. A figure outside its range is an answer, not
 * an error. `out` is zeroed when this fails.
 */
int calc_run(const char *kind, size_t count, char *const arguments[], enum unit_system units,
             struct calc_answer *out, struct error *e);

#endif
