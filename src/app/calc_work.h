/*
 * Inside calc: what a kind's work sees, and the steps from arguments to an answer. The card's
 * figures go the same way from a coupon's entries (coupon_figures.h).
 */
#ifndef APP_CALC_WORK_H
#define APP_CALC_WORK_H

#include "app/calc.h"
#include "weld/heat.h"

enum { CALC_ARGUMENTS = 24, CALC_OUTPUTS = 24 };

/* Values by row of the kind's argument table, in base units. */
struct calc_inputs {
    double value[CALC_ARGUMENTS]; /* NAN: not given; choices: index of the word */
    double error[CALC_ARGUMENTS]; /* ±, 0 exact */
    char *text[CALC_ARGUMENTS];   /* as given, tidied; NULL: not given; owned */
    bool given[CALC_ARGUMENTS];   /* false: the usual value, or none */
};

/* One computation: reads `in` and `text`, fills `out` and `why`; nothing else. */
struct calc_work {
    const double *in;
    char *const *text;
    double out[CALC_OUTPUTS];       /* base units, by row; NAN: not asked, or see why */
    const char *why[CALC_OUTPUTS];  /* outside the range: why, one sentence */
    const char *want[CALC_OUTPUTS]; /* cannot be said: what is to be given for it */
};

void calc_inputs_start(struct calc_inputs *in); /* nothing given */
void calc_inputs_free(struct calc_inputs *in);
/* Takes "key=value" into its row. */
int calc_inputs_take(struct calc_inputs *in, const struct calc_kind *kind, const char *argument,
                     struct error *e);
/* Refuses arguments of which one would silently be passed over (kind->either). */
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

/* Works out an answer; `out` is zeroed when this fails. */
int calc_answer_make(const struct calc_kind *kind, const struct calc_inputs *in,
                     enum unit_system units, struct calc_answer *out, struct error *e);

/* For the kinds. */
/* The process of an argument's text; NULL text gives NULL. */
int calc_process(const char *text, const struct heat_process **out, struct error *e);
/* Notes that process 131 is not one for steel. */
void calc_note_inert_gas(const char *process, struct calc_answer *a);
void calc_word(struct calc_answer *a, const char *key, const char *label, const char *text);
void calc_note(struct calc_answer *a, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void calc_figure_fill(struct calc_figure *f, const struct calc_output *row, bool twin, double value,
                      double error, enum unit_system units); /* base units */

extern const struct calc_kind calc_heat, calc_cooling, calc_carbon, calc_preheat, calc_fillet,
    calc_hinge, calc_bend, calc_wire, calc_duty, calc_stock;

#endif
