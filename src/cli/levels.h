/*
 * The levels at hand of a variable under trial, as they are typed.
 */
#ifndef CLI_LEVELS_H
#define CLI_LEVELS_H

#include "app/session.h"
#include "base/error.h"
#include "model/trial.h"

/*
 * "sides=one,both" replaces the levels of that variable; with a semicolon anywhere that separates
 * them, so that 0,9 can be a number. With nothing behind the equals sign the variable is no longer
 * under trial. ERROR_USAGE without an equals sign, ERROR_INPUT for a variable or a level that
 * cannot be; the levels read before that one stay.
 */
int levels_set(const struct session *s, struct trial *t, const char *text, struct error *e);

#endif
