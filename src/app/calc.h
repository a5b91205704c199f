/*
 * The weld arithmetic as a shop asks for it: kinds of calculation, their arguments and figures, as
 * one table. `coldlap calc`, its help and the manual are made from it.
 *
 * Arguments are "key=value". A value carries its unit or takes the one the row names, whatever the
 * units of the book: volts=20, speed=300, speed=2.5mm/s, thickness=5/16in. Behind it may stand the
 * reading's own ±: volts=20±0.5, amps=140+-2%, "leg=5mm ± 0.5mm"; ±0 is exact. Without one the
 * row's usual reading error is taken. The ± are carried into the figures (weld/uncertainty.h).
 */
#ifndef APP_CALC_H
#define APP_CALC_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/units.h"

struct calc_answer;

/* What one argument holds. */
enum calc_type {
    CALC_QUANTITY, /* a number of the row's dimension */
    CALC_CHOICE,   /* one of the row's words */
    CALC_TEXT,     /* a list, as the help says */
};

struct calc_argument {
    const char *key;
    const char *also; /* other spellings, spaces between; NULL: none */
    enum calc_type type;
    enum dimension dimension;
    const char *unit;    /* key of the unit a bare number takes, NULL for DIM_NUMBER and DIM_COUNT;
                            DIM_SHARE with NULL: a bare number up to 1 is a share of one, else % */
    const char *choices; /* CALC_CHOICE: words separated by '|' */
    const char *usual;   /* taken when not given, written as it would be; NULL: none */
    double error;        /* ± of a reading given without one: base unit, or below 0 a share
                            (-0.02); 0: exact */
    const char *help;
};

/* What one figure is. */
struct calc_output {
    const char *key;          /* JSON key, ending in its unit: "arc_energy_kj_per_mm" */
    const char *label;        /* "Arc energy" */
    enum dimension dimension; /* how it is shown; DIM_NUMBER: as it is */
    const char *unit;      /* key of the unit under `key`; for DIM_NUMBER the words shown, or "" */
    const char *twin_key;  /* the same figure in the other system: "arc_energy_kj_per_in" */
    const char *twin_unit; /* NULL with twin_key */
    const char *formula;
    const char *source;
};

struct calc_work;   /* one computation; app/calc_work.h */
struct calc_inputs; /* the arguments as numbers; app/calc_work.h */

struct calc_kind {
    const char *name; /* "heat" */
    const char *summary;
    const char *either; /* "leg|leg1 throat; a|b": what is not given together, or NULL */
    const char *needs;  /* "volts, amps and speed; or energy and length" */
    const char *range;  /* where the figures hold */
    const struct calc_argument *arguments; /* up to a NULL key */
    const struct calc_output *outputs;     /* up to a NULL key */
    const char *example;                   /* arguments of a call that works */
    bool permission; /* a figure could be taken for permission: the cautions go with it */
    int (*prepare)(struct calc_inputs *in, struct error *e); /* before the work; or NULL */
    int (*work)(struct calc_work *w, struct error *e);
    void (*say)(const struct calc_work *w, struct calc_answer *a); /* words and notes; or NULL */
};

const struct calc_kind *calc_kind_at(size_t i); /* NULL behind the last */
const struct calc_kind *calc_kind_find(const char *name);

struct calc_figure {
    const char *key, *label;
    const char *unit; /* of `value`, as shown: "kJ/mm"; "" for a bare number */
    double value;     /* in that unit; NAN: cannot be said */
    double error;     /* ± in the same unit; NAN: none known */
    char shown[128];  /* in the units asked for, with its ±: "2.4 ± 0.08 kJ/mm"; "–" for NAN */
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
    const char *key, *label;
    char *text; /* owned */
};

struct calc_note {
    char *text; /* owned */
};

struct calc_answer {
    const struct calc_kind *kind;
    enum unit_system units;
    struct calc_input *inputs;
    size_t input_count, input_room;
    struct calc_figure *figures; /* those the arguments ask for */
    size_t figure_count, figure_room;
    struct calc_word *words;
    size_t word_count, word_room;
    struct calc_note *notes; /* what to know about the figures */
    size_t note_count, note_room;
};

/*
 * Works out one kind. Unknown kinds and arguments are ERROR_USAGE and name the right ones; a value
 * that cannot be read is ERROR_INPUT. A figure outside its range is an answer, not an error.
 * `out` is zeroed when this fails.
 */
int calc_run(const char *kind, size_t count, char *const arguments[], enum unit_system units,
             struct calc_answer *out, struct error *e);
void calc_answer_free(struct calc_answer *a);
const struct calc_figure *calc_figure_find(const struct calc_answer *a, const char *key);

/* One JSON object, "schema": 1: every figure under its key, null when NAN; then "figures" and
 * "inputs" with units, ±, formula and source, "notes", and "caution" where a figure could be taken
 * for permission. Caller frees. */
char *calc_json(const struct calc_answer *a);

#endif
