/*
 * A kind of calculation as one table: its arguments, its figures with formula and source, and the
 * functions that work them out. `coldlap calc`, its help and the manual are made from it.
 */
#ifndef CALC_KIND_H
#define CALC_KIND_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/units.h"
#include "weld/uncertainty.h"

enum { CALC_ARGUMENTS = 24, CALC_OUTPUTS = 24, CALC_REMARKS = 3 }; /* the last row stays empty */

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
    const char *unit;    /* key of the unit a bare number takes; NULL: the base unit, or for
                            DIM_SHARE: a bare number up to 1 is a share of one, else % */
    const char *choices; /* CALC_CHOICE: words separated by '|' */
    const char *usual;   /* taken when not given, written as it would be; NULL: none */
    const char *limits;  /* variable whose limits of what cannot be it shares; NULL: none */
    double error;        /* ± of a reading given without one: base unit, or below 0 a share
                            (-0.02); 0: exact */
    const char *help;
};

/* Arguments read off with a steel rule, with a calliper or weld gauge. */
#define BY_RULE .dimension = DIM_LENGTH, .error = READING_MM
#define BY_CALLIPER .dimension = DIM_LENGTH, .error = READING_CALIPER_MM

/* What one figure is. */
struct calc_output {
    const char *key;          /* JSON key, ending in its unit: "arc_energy_kj_per_mm" */
    const char *label;        /* "Arc energy" */
    enum dimension dimension; /* how it is shown; DIM_NUMBER: as it is */
    const char *unit;     /* key of the unit under `key`, NULL: the base unit; for DIM_NUMBER the
                             words shown, or NULL */
    const char *twin_key; /* the same in the unit of the inch system: "arc_energy_kj_per_in" */
    const char *formula;
    const char *source;
    bool card; /* a coupon's card shows it (derived/coupon_figures.h) */
};

/* Keys and dimension of a figure called `name` in one of the usual units. */
/* clang-format off */
#define IN_MM(name) .key = name "_mm", .twin_key = name "_in", .dimension = DIM_LENGTH
#define IN_KG(name) .key = name "_kg", .twin_key = name "_lb", .dimension = DIM_MASS
#define IN_MPA(name) .key = name "_mpa", .twin_key = name "_ksi", .dimension = DIM_STRESS
#define IN_KJ_PER_MM(name) \
    .key = name "_kj_per_mm", .twin_key = name "_kj_per_in", .dimension = DIM_LINE_ENERGY
#define IN_PERCENT(name) .key = name "_pct", .dimension = DIM_SHARE
#define IN_SECONDS(name) .key = name "_s", .dimension = DIM_TIME
/* clang-format on */

/* One computation: reads `in` and `text`, fills `out`, `why` and `want`; nothing else. */
struct calc_work {
    const double *in;  /* by argument row, base units; NAN: not given; choices: index of the word */
    char *const *text; /* by argument row, as given; NULL: not given */
    double out[CALC_OUTPUTS];       /* by output row, base units; NAN: not asked, or see why */
    const char *why[CALC_OUTPUTS];  /* outside the range: why, one sentence */
    const char *want[CALC_OUTPUTS]; /* cannot be said: what is to be given for it */
};

struct calc_inputs;
struct calc_answer;

struct calc_kind {
    const char *name; /* "heat" */
    const char *summary;
    const char *either; /* "leg|leg1 throat; a|b": what is not given together, or NULL */
    const char *needs;  /* "volts, amps and speed; or energy and length" */
    const char *range;  /* where the figures hold */
    struct calc_argument arguments[CALC_ARGUMENTS]; /* up to a NULL key */
    struct calc_output outputs[CALC_OUTPUTS];       /* up to a NULL key */
    /* What to know about a figure, said when it is known; up to a NULL text. */
    struct {
        size_t figure;
        const char *text;
    } remarks[CALC_REMARKS];
    const char *example; /* arguments of a call that works */
    bool permission;     /* a figure could be taken for permission: the cautions go with it */
    /* Before the work; or NULL. ERROR_USAGE for arguments that do not go together, ERROR_INPUT for
     * those that cannot be read; so too for `work`. */
    int (*prepare)(struct calc_inputs *in, struct error *e);
    int (*work)(struct calc_work *w, struct error *e);
    void (*say)(const struct calc_work *w, struct calc_answer *a); /* words and notes; or NULL */
};

extern const struct calc_kind calc_heat, calc_cooling, calc_carbon, calc_preheat, calc_fillet,
    calc_hinge, calc_bend, calc_wire, calc_duty, calc_stock;

#endif
