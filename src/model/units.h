/*
 * Units. Inside the program a number is always in the base unit of its dimension; the weld
 * arithmetic carries the unit in the type. The table of runtime units is for reading and writing.
 *
 * Conversion factors are exact by definition (1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 lbf =
 * 4.4482216152605 N; NIST SP 811, appendix B).
 */
#ifndef MODEL_UNITS_H
#define MODEL_UNITS_H

#include <stdbool.h>
#include <stddef.h>

/* What a number measures, each with the base unit it is stored in. */
enum dimension {
    DIM_NUMBER,      /* a bare number, or a user's own unit that is not converted */
    DIM_COUNT,       /* whole number */
    DIM_LENGTH,      /* mm */
    DIM_AREA,        /* mm2 */
    DIM_SPEED,       /* mm/min: travel and wire feed */
    DIM_TIME,        /* s */
    DIM_TEMPERATURE, /* degC */
    DIM_ANGLE,       /* deg */
    DIM_SHARE,       /* % */
    DIM_VOLTAGE,     /* V */
    DIM_CURRENT,     /* A */
    DIM_GAS_FLOW,    /* l/min */
    DIM_LINE_ENERGY, /* kJ/mm */
    DIM_ENERGY,      /* kJ */
    DIM_POWER,       /* kW */
    DIM_FORCE,       /* N */
    DIM_MOMENT,      /* N m */
    DIM_STRESS,      /* MPa */
    DIM_MASS,        /* kg */
    DIM_LINE_MASS,   /* g/m */
    DIM_MASS_RATE,   /* kg/h: deposition */
    DIM_HYDROGEN,    /* ml/100g of deposited metal */
    DIMENSIONS
};

enum unit_system { UNITS_METRIC, UNITS_INCH };

struct unit {
    const char *key;    /* in file headers and JSON: "mm/min", "in", "degC" */
    const char *symbol; /* on screen: "mm/min", "in", "°C" */
    enum dimension dimension;
    double scale, offset; /* base = scale * x + offset */
    const char *also;     /* other spellings, separated by spaces: "inch inches \"" */
    int decimals;         /* decimals shown by default */
};

/* The unit called `name` (key, symbol or other spelling, case of letters ignored except where two
 * units differ by it). DIMENSIONS as dimension means any. NULL when there is none. */
const struct unit *unit_find(const char *name, size_t length, enum dimension dimension);
/* The unit a system shows a dimension in (DIM_LENGTH: mm or in); NULL for DIM_NUMBER and DIM_COUNT.
 */
const struct unit *unit_shown(enum dimension dimension, enum unit_system system);
/* The unit numbers are kept in; NULL for DIM_NUMBER and DIM_COUNT. */
const struct unit *unit_base(enum dimension dimension);
/* The i-th row of the table, NULL behind the last: for help texts and tests. */
const struct unit *unit_at(size_t i);

double unit_to_base(const struct unit *unit, double value);
double unit_from_base(const struct unit *unit, double base);

/* The unit in the type, for the weld arithmetic. */
/* clang-format off */
struct mm { double v; };
struct mm2 { double v; };
struct mm_per_s { double v; };
struct mm_per_min { double v; };
struct seconds { double v; };
struct celsius { double v; };
struct degree { double v; };
struct percent { double v; };
struct volt { double v; };
struct ampere { double v; };
struct kj_per_mm { double v; };
struct kilojoule { double v; };
struct kilowatt { double v; };
struct newton { double v; };
struct newton_metre { double v; };
struct mpa { double v; };
struct kg { double v; };
struct kg_per_h { double v; };
struct g_per_m { double v; };
struct ml_per_100g { double v; };
/* clang-format on */

#endif
