/*
 * The answer of one calculation: its figures with their ±, what they rest on, words and notes. The
 * card's figures are made the same way from a coupon's entries (coupon_figures.h).
 */
#ifndef CALC_ANSWER_H
#define CALC_ANSWER_H

#include "calc/inputs.h"
#include "calc/kind.h"
#include "weld/heat.h"

enum { CALC_WORDS = 4, CALC_NOTES = 8 }; /* the most one kind says */

struct calc_figure {
    const char *key, *label;
    const char *unit; /* of `value`, as shown: "kJ/mm"; "" for a bare number */
    double value;     /* in that unit; NAN: cannot be said */
    double error;     /* ± in the same unit; NAN: none known */
    char shown[128];  /* in the units asked for, with its ±: "2.4 ± 0.08 kJ/mm"; "–" for NAN */
    bool card;        /* as in its row's table; never of a twin */
    bool twin;        /* repeats the figure before it in another unit: JSON only */
    bool outside;     /* outside the range of its formula */
    const char *why;  /* one sentence when outside, or why it cannot be said; else NULL */
    const char *formula, *source;
};

struct calc_input {
    const char *key, *unit; /* unit of value, as shown; "" for words and bare numbers */
    double value, error;    /* as understood; NAN for words; error NAN: exact */
    char *text;             /* as given, tidied; owned */
    bool given;             /* false: the usual value */
};

/* An outcome in words: "governs": "plate". */
struct calc_word {
    const char *key, *label, *text;
};

struct calc_answer {
    const struct calc_kind *kind;
    enum unit_system units;
    struct calc_input inputs[CALC_ARGUMENTS];
    struct calc_figure figures[2 * CALC_OUTPUTS]; /* those asked for; none is infinite */
    struct calc_word words[CALC_WORDS];
    char *notes[CALC_NOTES]; /* what to know about the figures; owned */
    size_t input_count, figure_count, word_count, note_count;
};

/* Works out an answer; the caller frees it. ERROR_USAGE when the inputs ask for no figure, or the
 * error of the kind's work; `out` is zeroed then. */
int calc_answer_make(const struct calc_kind *kind, const struct calc_inputs *in,
                     enum unit_system units, struct calc_answer *out, struct error *e);
void calc_answer_free(struct calc_answer *a);
const struct calc_figure *calc_figure_find(const struct calc_answer *a, const char *key);
/* One figure by itself; value and error in the base unit. */
void calc_figure_fill(struct calc_figure *f, const struct calc_output *row, bool twin, double value,
                      double error, enum unit_system units);

/* For the kinds. `text` is constant; a note is formatted into a string of the answer's own. */
void calc_word(struct calc_answer *a, const char *key, const char *label, const char *text);
void calc_note(struct calc_answer *a, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* The argument `process` of calc heat and calc wire. NULL text gives NULL; ERROR_INPUT for one
 * without a row. */
int calc_process(const char *text, const struct heat_process **out, struct error *e);
/* Notes that process 131 is not one for steel. */
void calc_process_note(const char *text, struct calc_answer *a);

#endif
