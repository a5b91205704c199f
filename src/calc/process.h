/* The argument `process` of calc heat and calc wire. */
#ifndef CALC_PROCESS_H
#define CALC_PROCESS_H

#include "calc/answer.h"
#include "weld/heat.h"

/* The process of an argument's text; NULL text gives NULL. ERROR_INPUT for one without a row. */
int calc_process(const char *text, const struct heat_process **out, struct error *e);
/* Notes that process 131 is not one for steel. */
void calc_process_note(const char *text, struct calc_answer *a);

#endif
