/*
 * The weld arithmetic as a shop asks for it: kinds of calculation, their arguments and figures, as
 * one table. `coldlap calc`, its help and the manual are made from it.
 *
 * Arguments are "key=value". A value carries its unit or takes the one the row names, whatever the
 * units of the book: volts=20, speed=300, speed=2.5mm/s, thickness=3/16in. Behind it may stand the
 * reading's own ±: volts=20±0.5, amps=140+-2%, "leg=5mm ± 0.5mm"; ±0 is exact. Without one the
 * row's usual reading error is taken. The ± are carried into the figures (weld/uncertainty.h).
 */
#ifndef APP_CALC_H
#define APP_CALC_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/units.h"

/* What one argument holds. */
enum calc_type {
    CALC_QUANTITY, /* a number of the row's dimension */
    CALC_CHOICE,   /* one of the row's words */
    CALC_TEXT,     /* a list of its own, as the help says */
};

struct calc_argument {
    const char *key;
    enum calc_type type;
    enum dimension dimension;
    const char *unit;    /* key of the unit a bare number takes; NULL: none */
    const char *choices; /* CALC_CHOICE: words separated by '|' */
    const char *usual;   /* taken when not given, as it would be written; NULL: not given */
    double error; /* ± when none is given: in base units, or below 0 a share (−0.02); 0 exact */
    const char *help;
};

/* What one figure is. */
struct calc_output {
    const char *key;          /* JSON key, ending in its unit: "arc_energy_kj_per_mm" */
    const char *label;        /* "Arc energy" */
    enum dimension dimension; /* for showing in the book's units; DIM_NUMBER: as it is */
    const char *unit;         /* unit of the key, as shown: "kJ/mm"; "" for a bare number */
    double per_base;          /* figure = per_base × value in the base unit */
    bool twin;                /* the same figure in another unit: JSON only, not shown twice */
    const char *formula;
    const char *source;
};

struct calc_kind {
    const char *name; /* "heat" */
    const char *summary;
    const char *range;                     /* where the figures hold */
    const struct calc_argument *arguments; /* up to a NULL key */
    const struct calc_output *outputs;     /* up to a NULL key */
    const char *example;                   /* arguments of a call that works */
    bool permission; /* a figure could be taken for permission: the cautions go with it */
};

const struct calc_kind *calc_kind_at(size_t i); /* NULL behind the last */
const struct calc_kind *calc_kind_find(const char *name);

struct calc_figure {
    const char *key, *label, *unit; /* the unit of `value` */
    double value;                   /* in that unit; NAN: cannot be said */
    double error;                   /* ± in the same unit; NAN: none known */
    char shown[64];                 /* in the units asked for, with its ±: "2.4 ± 0.08 kJ/mm" */
    bool twin;
    bool outside;
    const char *why; /* one sentence; NULL unless outside or NAN */
    const char *formula, *source;
};

struct calc_input {
    const char *key, *unit; /* unit of value; NULL for words */
    double value, error;    /* as understood, in the row's unit; NAN for words; error NAN: exact */
    char *text;             /* as given, tidied; owned */
    bool given;             /* false: the usual value */
};

struct calc_note {
    char *text; /* owned */
};

struct calc_answer {
    const struct calc_kind *kind;
    enum unit_system units;
    struct calc_input *inputs;
    size_t input_count, input_room;
    struct calc_figure *figures;
    size_t figure_count, figure_room;
    struct calc_note *words; /* verdicts in words, key in front: "governs: plate" */
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

/* One JSON object, "schema": 1, every figure under its key, null when NAN. Caller frees. */
char *calc_json(const struct calc_answer *a);

#endif
