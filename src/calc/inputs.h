/*
 * The arguments of one calculation as numbers in base units, by row of the kind's argument table.
 */
#ifndef CALC_INPUTS_H
#define CALC_INPUTS_H

#include "calc/kind.h"

struct calc_inputs {
    double value[CALC_ARGUMENTS]; /* NAN: not given; choices: index of the word */
    double error[CALC_ARGUMENTS]; /* ±, 0 exact */
    char *text[CALC_ARGUMENTS];   /* as given, tidied; NULL: not given; owned */
    bool given[CALC_ARGUMENTS];   /* false: the usual value, or none */
};

/* The unit called `key`, the base unit for NULL; NULL where there is none: bare numbers, counts. */
const struct unit *calc_unit(enum dimension dimension, const char *key);

void calc_inputs_start(struct calc_inputs *in); /* nothing given */
void calc_inputs_free(struct calc_inputs *in);
/* Takes "key=value" into its row. ERROR_USAGE for an unknown or repeated key, ERROR_INPUT for a
 * value that cannot be read or cannot be. */
int calc_inputs_take(struct calc_inputs *in, const struct calc_kind *kind, const char *argument,
                     struct error *e);
/* ERROR_USAGE for arguments of which one would silently be passed over (kind->either). */
int calc_inputs_check(const struct calc_inputs *in, const struct calc_kind *kind, struct error *e);
/* Sets a row from a number in its base unit, with the row's own reading error; NAN leaves it. */
void calc_inputs_number(struct calc_inputs *in, const struct calc_kind *kind, const char *key,
                        double value);
/* Sets the ± of a row that has a number. */
void calc_inputs_error(struct calc_inputs *in, const struct calc_kind *kind, const char *key,
                       double error);
void calc_inputs_choice(struct calc_inputs *in, const struct calc_kind *kind, const char *key,
                        const char *word);
/* Fills the rows not given with their usual values. */
void calc_inputs_usual(struct calc_inputs *in, const struct calc_kind *kind);

#endif
