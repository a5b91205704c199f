/* The tables of a simulation as Markdown, and the targets held against them. */
#ifndef TESTS_SIMULATE_REPORT_H
#define TESTS_SIMULATE_REPORT_H

#include <stdbool.h>

#include "tally.h"

void report_print(const struct tally *t);
/* Each target with what was measured and its standard error; false when one is missed by more than
 * `errors` standard errors. */
bool report_check(const struct tally *t, double errors);

#endif
