/*
 * The table of runtime units and how a name finds its row.
 *
 * Names are compared after folding: spaces, hyphens, points and middle dots are dropped, "²" is
 * "2", "°" is "deg", typographic inch marks are plain ones. So "N m", "N·m" and "Nm" are one name,
 * and a row needs few other spellings.
 */
#include "model/units.h"

#include <assert.h>
#include <ctype.h>
#include <string.h>

enum { NAME_SIZE = 32 };

#define INCH 25.4
#define FOOT 304.8
#define LB 0.45359237
#define LBF 4.4482216152605
#define KGF 9.80665
#define CUBIC_FOOT 28.316846592 /* litres */

/* Per dimension the base unit comes first. */
static const struct unit table[] = {
    {"mm", "mm", DIM_LENGTH, 1, 0, "millimetre millimetres millimeter millimeters", 2},
    {"cm", "cm", DIM_LENGTH, 10, 0, "centimetre centimetres centimeter centimeters", 2},
    {"m", "m", DIM_LENGTH, 1000, 0, "metre metres meter meters", 3},
    {"um", "µm", DIM_LENGTH, 1e-3, 0, "micron microns", 0},
    {"in", "in", DIM_LENGTH, INCH, 0, "inch inches \" ''", 3},
    {"ft", "ft", DIM_LENGTH, FOOT, 0, "foot feet '", 3},
    {"mil", "mil", DIM_LENGTH, INCH / 1000, 0, "mils thou", 0},

    {"mm2", "mm²", DIM_AREA, 1, 0, "mm^2 sqmm", 1},
    {"cm2", "cm²", DIM_AREA, 100, 0, "cm^2 sqcm", 2},
    {"in2", "in²", DIM_AREA, INCH *INCH, 0, "in^2 sqin", 4},

    {"mm/min", "mm/min", DIM_SPEED, 1, 0, "mmpm mm/minute", 0},
    {"mm/s", "mm/s", DIM_SPEED, 60, 0, "mm/sec mm/second", 2},
    {"cm/min", "cm/min", DIM_SPEED, 10, 0, "cpm", 1},
    {"cm/s", "cm/s", DIM_SPEED, 600, 0, "cm/sec", 3},
    {"m/min", "m/min", DIM_SPEED, 1000, 0, "mpm", 2},
    {"in/min", "in/min", DIM_SPEED, INCH, 0, "ipm inch/min inches/min \"/min", 1},
    {"in/s", "in/s", DIM_SPEED, INCH * 60, 0, "ips in/sec inch/s", 3},
    {"ft/min", "ft/min", DIM_SPEED, FOOT, 0, "fpm", 2},

    {"s", "s", DIM_TIME, 1, 0, "sec secs second seconds", 1},
    {"min", "min", DIM_TIME, 60, 0, "m mins minute minutes", 2},
    {"h", "h", DIM_TIME, 3600, 0, "hr hrs hour hours", 3},
    {"ms", "ms", DIM_TIME, 1e-3, 0, "", 0},

    {"degC", "°C", DIM_TEMPERATURE, 1, 0, "C celsius", 0},
    {"degF", "°F", DIM_TEMPERATURE, 5.0 / 9, -160.0 / 9, "F fahrenheit", 0},
    {"K", "K", DIM_TEMPERATURE, 1, -273.15, "kelvin", 0},

    {"deg", "°", DIM_ANGLE, 1, 0, "degree degrees", 1},
    {"rad", "rad", DIM_ANGLE, 57.295779513082320877, 0, "radian radians", 3},

    {"%", "%", DIM_SHARE, 1, 0, "pct percent", 1},

    {"V", "V", DIM_VOLTAGE, 1, 0, "volt volts", 1},
    {"mV", "mV", DIM_VOLTAGE, 1e-3, 0, "", 0},
    {"kV", "kV", DIM_VOLTAGE, 1e3, 0, "", 3},

    {"A", "A", DIM_CURRENT, 1, 0, "amp amps ampere amperes", 0},
    {"kA", "kA", DIM_CURRENT, 1e3, 0, "", 3},

    {"l/min", "l/min", DIM_GAS_FLOW, 1, 0, "lpm litre/min litres/min liter/min liters/min", 1},
    {"cfh", "cfh", DIM_GAS_FLOW, CUBIC_FOOT / 60, 0, "ft3/h ft3/hr cuft/h scfh", 0},
    {"m3/h", "m³/h", DIM_GAS_FLOW, 1000.0 / 60, 0, "", 2},

    {"kJ/mm", "kJ/mm", DIM_LINE_ENERGY, 1, 0, "", 2},
    {"J/mm", "J/mm", DIM_LINE_ENERGY, 1e-3, 0, "", 0},
    {"kJ/cm", "kJ/cm", DIM_LINE_ENERGY, 0.1, 0, "", 2},
    {"kJ/in", "kJ/in", DIM_LINE_ENERGY, 1 / INCH, 0, "kJ/inch", 1},
    {"J/in", "J/in", DIM_LINE_ENERGY, 1e-3 / INCH, 0, "J/inch", 0},

    {"kJ", "kJ", DIM_ENERGY, 1, 0, "", 1},
    {"J", "J", DIM_ENERGY, 1e-3, 0, "joule joules", 0},
    {"MJ", "MJ", DIM_ENERGY, 1e3, 0, "", 3},
    {"Wh", "Wh", DIM_ENERGY, 3.6, 0, "", 1},
    {"kWh", "kWh", DIM_ENERGY, 3600, 0, "", 3},

    {"kW", "kW", DIM_POWER, 1, 0, "", 2},
    {"W", "W", DIM_POWER, 1e-3, 0, "watt watts", 0},

    {"N", "N", DIM_FORCE, 1, 0, "newton newtons", 0},
    {"kN", "kN", DIM_FORCE, 1e3, 0, "", 2},
    {"lbf", "lbf", DIM_FORCE, LBF, 0, "lb lbs pound pounds", 0},
    {"kgf", "kgf", DIM_FORCE, KGF, 0, "kg kp", 1},
    {"kip", "kip", DIM_FORCE, LBF * 1000, 0, "kips", 2},

    {"Nm", "N m", DIM_MOMENT, 1, 0, "N*m", 1},
    {"kNm", "kN m", DIM_MOMENT, 1e3, 0, "kN*m", 3},
    {"ft-lb", "ft-lb", DIM_MOMENT, LBF *FOOT / 1000, 0, "lbft ftlbs lbfft ftlbf ft*lbf", 1},
    {"in-lb", "in-lb", DIM_MOMENT, LBF *INCH / 1000, 0, "lbin inlbs lbfin inlbf", 0},
    {"kgf-m", "kgf m", DIM_MOMENT, KGF, 0, "kgm mkg kpm", 2},

    {"MPa", "MPa", DIM_STRESS, 1, 0, "N/mm2 N/mm^2", 0},
    {"GPa", "GPa", DIM_STRESS, 1e3, 0, "", 2},
    {"psi", "psi", DIM_STRESS, LBF / (INCH * INCH), 0, "lb/in2 lbf/in2", 0},
    {"ksi", "ksi", DIM_STRESS, LBF * 1000 / (INCH * INCH), 0, "kip/in2", 1},
    {"bar", "bar", DIM_STRESS, 0.1, 0, "", 1},
    {"kgf/mm2", "kgf/mm²", DIM_STRESS, KGF, 0, "kg/mm2 kp/mm2", 1},

    {"kg", "kg", DIM_MASS, 1, 0, "kilogram kilograms kilo kilos", 3},
    {"g", "g", DIM_MASS, 1e-3, 0, "gram grams", 0},
    {"lb", "lb", DIM_MASS, LB, 0, "lbs pound pounds", 3},
    {"oz", "oz", DIM_MASS, LB / 16, 0, "ounce ounces", 1},

    {"g/m", "g/m", DIM_LINE_MASS, 1, 0, "", 1},
    {"kg/m", "kg/m", DIM_LINE_MASS, 1e3, 0, "", 3},
    {"lb/ft", "lb/ft", DIM_LINE_MASS, LB * 1e6 / FOOT, 0, "lbs/ft lb/foot", 3},

    {"kg/h", "kg/h", DIM_MASS_RATE, 1, 0, "kg/hr kg/hour", 2},
    {"g/min", "g/min", DIM_MASS_RATE, 0.06, 0, "", 1},
    {"lb/h", "lb/h", DIM_MASS_RATE, LB, 0, "lb/hr lbs/h lbs/hr pph", 2},

    {"ml/100g", "ml/100 g", DIM_HYDROGEN, 1, 0, "cm3/100g", 1},
};

enum { ROWS = sizeof table / sizeof *table };

/* Unit keys in which the inch system differs from the base unit. */
static const struct {
    enum dimension dimension;
    const char *key;
} inch_shown[] = {
    {DIM_LENGTH, "in"},        {DIM_AREA, "in2"},        {DIM_SPEED, "in/min"},
    {DIM_TEMPERATURE, "degF"}, {DIM_GAS_FLOW, "cfh"},    {DIM_LINE_ENERGY, "kJ/in"},
    {DIM_FORCE, "lbf"},        {DIM_MOMENT, "ft-lb"},    {DIM_STRESS, "ksi"},
    {DIM_MASS, "lb"},          {DIM_LINE_MASS, "lb/ft"}, {DIM_MASS_RATE, "lb/h"},
};

/* Characters that are folded; "" drops them. */
static const struct {
    const char *from, *to;
} folds[] = {
    {" ", ""},   {"-", ""},   {".", ""},    {"\t", ""},   {"·", ""},  {"⋅", ""},  {"\u00a0", ""},
    {"²", "2"},  {"³", "3"},  {"°", "deg"}, {"º", "deg"}, {"µ", "u"}, {"μ", "u"}, {"”", "\""},
    {"″", "\""}, {"“", "\""}, {"’", "'"},   {"′", "'"},   {"‑", ""},  {"–", ""},
};

/* Bytes taken at `s` and what they become; one byte as it is when nothing folds. */
static size_t fold_step(const char *s, size_t left, const char **to)
{
    *to = NULL;
    if (isalnum((unsigned char)*s)) /* most of them */
        return 1;
    for (size_t i = 0; i < sizeof folds / sizeof *folds; i++) {
        size_t bytes = strlen(folds[i].from);

        if (bytes <= left && memcmp(s, folds[i].from, bytes) == 0) {
            *to = folds[i].to;
            return bytes;
        }
    }
    return 1;
}

/* False when the folded name is empty or longer than any unit. */
static bool fold(char out[NAME_SIZE], const char *s, size_t length)
{
    size_t put = 0;

    for (size_t at = 0; at < length;) {
        const char *to;
        size_t used = fold_step(s + at, length - at, &to), bytes = to == NULL ? 1 : strlen(to);

        if (put + bytes >= NAME_SIZE)
            return false;
        memcpy(out + put, to == NULL ? s + at : to, bytes);
        put += bytes;
        at += used;
    }
    out[put] = '\0';
    return put > 0;
}

typedef int letter(int c); /* with or without case */

static int as_it_is(int c)
{
    return c;
}

/* `name` is folded already; the spelling is folded on the way, which mostly ends at once. */
static bool one_is(const char *name, const char *spelling, size_t length, letter *plain)
{
    for (size_t at = 0; at < length;) {
        const char *to;
        size_t used = fold_step(spelling + at, length - at, &to);
        size_t bytes = to == NULL ? 1 : strlen(to);

        for (size_t i = 0; i < bytes; i++)
            if (plain((unsigned char)*name++) !=
                plain((unsigned char)(to == NULL ? spelling[at] : to[i])))
                return false;
        at += used;
    }
    return *name == '\0';
}

static bool has_name(const struct unit *u, const char *name, letter *plain)
{
    return one_is(name, u->key, strlen(u->key), plain) ||
           one_is(name, u->symbol, strlen(u->symbol), plain);
}

static bool has_spelling(const struct unit *u, const char *name, letter *plain)
{
    for (const char *s = u->also; *s != '\0'; s += strspn(s, " ")) {
        size_t length = strcspn(s, " ");

        if (one_is(name, s, length, plain))
            return true;
        s += length;
    }
    return false;
}

typedef bool naming(const struct unit *u, const char *name, letter *plain);

static const struct unit *find(const char *name, enum dimension dimension, naming *has,
                               letter *plain)
{
    for (size_t i = 0; i < ROWS; i++)
        if ((dimension == DIMENSIONS || table[i].dimension == dimension) &&
            has(&table[i], name, plain))
            return &table[i];
    return NULL;
}

const struct unit *unit_find(const char *name, size_t length, enum dimension dimension)
{
    static letter *const letters[] = {as_it_is, tolower};
    char folded[NAME_SIZE];
    const struct unit *u = NULL;

    if (!fold(folded, name, length))
        return NULL;
    for (size_t i = 0; i < sizeof letters / sizeof *letters && u == NULL; i++) {
        u = find(folded, dimension, has_name, letters[i]);
        if (u == NULL)
            u = find(folded, dimension, has_spelling, letters[i]);
    }
    return u;
}

const struct unit *unit_base(enum dimension dimension)
{
    for (size_t i = 0; i < ROWS; i++)
        if (table[i].dimension == dimension)
            return &table[i];
    return NULL;
}

static const struct unit *by_key(const char *key)
{
    for (size_t i = 0; i < ROWS; i++)
        if (strcmp(table[i].key, key) == 0)
            return &table[i];
    return NULL;
}

const struct unit *unit_shown(enum dimension dimension, enum unit_system system)
{
    assert(dimension < DIMENSIONS && (system == UNITS_METRIC || system == UNITS_INCH));
    if (system == UNITS_INCH)
        for (size_t i = 0; i < sizeof inch_shown / sizeof *inch_shown; i++)
            if (inch_shown[i].dimension == dimension)
                return by_key(inch_shown[i].key);
    return unit_base(dimension);
}

const struct unit *unit_at(size_t i)
{
    return i < ROWS ? &table[i] : NULL;
}

double unit_to_base(const struct unit *unit, double value)
{
    return unit->scale * value + unit->offset;
}

double unit_from_base(const struct unit *unit, double base)
{
    return (base - unit->offset) / unit->scale;
}
