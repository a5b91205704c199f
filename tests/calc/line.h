/* A calculation on one line: "heat|volts=20|amps=300|speed=150", kind and arguments between bars.
 */
#ifndef TESTS_CALC_LINE_H
#define TESTS_CALC_LINE_H

#include "calc/calc.h"

enum { LINE = 400 }; /* the longest, with its end */

/* As calc_run(). */
int run(const char *line, enum unit_system units, struct calc_answer *a, struct error *e);
/* One figure of a line that must work; NAN when it is not there or cannot be said. */
double figure(const char *line, const char *key);

#endif
