/*
 * Reading what was typed: how it is to be read, and what came of it. Everything that sets a value
 * from text takes one of these and returns 0, or -1 with ERROR_INPUT in `error` and nothing set.
 *
 * An unusual value is not an error: `question` is filled (otherwise it is ""), and the value is set
 * only when the user is `sure` of it.
 */
#ifndef MODEL_INTAKE_H
#define MODEL_INTAKE_H

#include <stdbool.h>

#include "base/error.h"
#include "model/measure.h"
#include "model/variable.h"

struct intake {
    enum unit_system units;  /* of bare numbers and of messages */
    const struct unit *bare; /* of bare numbers, when it is another; else NULL */
    bool sure;
    struct error *error; /* the caller's; may be NULL */
    char question[512];
};

/* Holds both ends of a measure (base unit) against the limits of the row; the worse verdict counts.
 * -1 with ERROR_INPUT when it cannot be. `bare`: its number had no unit, so that another may have
 * been meant. */
int intake_judge(struct intake *in, const struct variable *v, struct measure m, bool bare);
/* True when the value waits for an answer to the question. */
bool intake_asks(const struct intake *in);

#endif
