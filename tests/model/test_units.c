#include "run.h"

#include <math.h>
#include <string.h>

#include "model/gauge.h"
#include "model/units.h"

static const struct unit *find(const char *name, enum dimension dimension)
{
    const struct unit *u = unit_find(name, strlen(name), dimension);

    ck_assert_msg(u != NULL, "no unit %s", name);
    return u;
}

/* Multiplied by `si`, one of the unit is one of the SI unit named; `base_si` does it for our base.
 */
struct factor {
    const char *unit;
    enum dimension dimension;
    double si, base_si;
};

/*
 * NIST Special Publication 811 (2008), appendix B.8, factors to seven digits as printed there, and
 * the same factor for our base unit (mm, mm/min, kJ/mm, …), which is exact.
 */
static const struct factor nist[] = {
    {"in", DIM_LENGTH, 2.54e-2, 1e-3},
    {"ft", DIM_LENGTH, 3.048e-1, 1e-3},
    {"mil", DIM_LENGTH, 2.54e-5, 1e-3},
    {"um", DIM_LENGTH, 1e-6, 1e-3},
    {"in2", DIM_AREA, 6.4516e-4, 1e-6},
    {"cm2", DIM_AREA, 1e-4, 1e-6},
    {"in/s", DIM_SPEED, 2.54e-2, 1e-3 / 60},
    {"in/min", DIM_SPEED, 4.233333e-4, 1e-3 / 60},
    {"ft/min", DIM_SPEED, 5.08e-3, 1e-3 / 60},
    {"h", DIM_TIME, 3600, 1},
    {"min", DIM_TIME, 60, 1},
    {"deg", DIM_ANGLE, 1.745329e-2, 1.745329251994330e-2},
    {"cfh", DIM_GAS_FLOW, 4.719474e-4 / 60, 1e-3 / 60}, /* from cubic foot per minute */
    {"Wh", DIM_ENERGY, 3.6e3, 1e3},
    {"kWh", DIM_ENERGY, 3.6e6, 1e3},
    {"lbf", DIM_FORCE, 4.448222, 1},
    {"kgf", DIM_FORCE, 9.80665, 1},
    {"kip", DIM_FORCE, 4.448222e3, 1},
    {"ft-lb", DIM_MOMENT, 1.355818, 1},
    {"in-lb", DIM_MOMENT, 1.129848e-1, 1},
    {"kgf-m", DIM_MOMENT, 9.80665, 1},
    {"psi", DIM_STRESS, 6.894757e3, 1e6},
    {"ksi", DIM_STRESS, 6.894757e6, 1e6},
    {"bar", DIM_STRESS, 1e5, 1e6},
    {"kgf/mm2", DIM_STRESS, 9.80665e6, 1e6},
    {"lb", DIM_MASS, 4.535924e-1, 1},
    {"oz", DIM_MASS, 2.834952e-2, 1},
    {"lb/ft", DIM_LINE_MASS, 1.488164, 1e-3},
    {"lb/h", DIM_MASS_RATE, 1.259979e-4, 1.0 / 3600},
};

START_TEST(factors_are_those_of_nist)
{
    const struct factor *f = &nist[_i];
    double ours = unit_to_base(find(f->unit, f->dimension), 1) * f->base_si;

    ck_assert_msg(fabs(ours - f->si) <= 5e-7 * f->si, "%s: %.9g, NIST has %.7g", f->unit, ours,
                  f->si);
}
END_TEST

/* NIST SP 811 B.8: t/°C = (t/°F − 32)/1.8 and t/°C = T/K − 273.15. */
START_TEST(temperatures)
{
    const struct unit *f = find("degF", DIM_TEMPERATURE), *k = find("K", DIM_TEMPERATURE);

    ck_assert_double_eq_tol(unit_to_base(f, 32), 0, 1e-12);
    ck_assert_double_eq_tol(unit_to_base(f, 212), 100, 1e-12);
    ck_assert_double_eq_tol(unit_to_base(f, -40), -40, 1e-12);
    ck_assert_double_eq_tol(unit_to_base(k, 273.15), 0, 1e-12);
    ck_assert_double_eq_tol(unit_from_base(f, 260), 500, 1e-12);
}
END_TEST

/* Shared check values: 1 kJ/in = 0.03937 kJ/mm, 1 in/min = 0.42333 mm/s (handbook figures). */
START_TEST(weld_figures_of_the_trade)
{
    ck_assert_double_eq_tol(unit_to_base(find("kJ/in", DIM_LINE_ENERGY), 1), 0.03937, 5e-6);
    ck_assert_double_eq_tol(unit_to_base(find("ipm", DIM_SPEED), 1) / 60, 0.42333, 5e-6);
}
END_TEST

START_TEST(rows_are_sound)
{
    const struct unit *u, *v;

    for (size_t i = 0; (u = unit_at(i)) != NULL; i++) {
        ck_assert_msg(u->scale > 0, "%s", u->key);
        ck_assert_ptr_eq(find(u->key, u->dimension), u);
        ck_assert_ptr_eq(find(u->symbol, u->dimension), u);
        for (double x = -1000; x <= 1000; x += 125)
            ck_assert_double_eq_tol(unit_from_base(u, unit_to_base(u, x)), x, 1e-9);
        for (size_t j = 0; j < i && (v = unit_at(j)) != NULL; j++)
            ck_assert_msg(strcmp(u->key, v->key) != 0, "%s twice", u->key);
    }
}
END_TEST

START_TEST(every_dimension_has_a_base_unit)
{
    for (enum dimension d = 0; d < DIMENSIONS; d++) {
        const struct unit *base = unit_base(d);

        if (d == DIM_NUMBER || d == DIM_COUNT) {
            ck_assert_ptr_null(base);
            ck_assert_ptr_null(unit_shown(d, UNITS_INCH));
            continue;
        }
        ck_assert_ptr_nonnull(base);
        ck_assert_double_eq(base->scale, 1);
        ck_assert_double_eq(base->offset, 0);
        ck_assert_ptr_eq(unit_shown(d, UNITS_METRIC), base);
        ck_assert_int_eq(unit_shown(d, UNITS_INCH)->dimension, d);
        /* Headers of exported tables carry these keys: they must lead back to the dimension. */
        ck_assert_ptr_eq(unit_find(base->key, strlen(base->key), DIMENSIONS), base);
    }
}
END_TEST

static const struct {
    const char *name;
    enum dimension dimension;
    const char *key; /* NULL: not known */
} names[] = {
    {"IPM", DIM_SPEED, "in/min"},
    {"Inches", DIM_LENGTH, "in"},
    {"\"", DIM_LENGTH, "in"},
    {"″", DIM_LENGTH, "in"},
    {"''", DIM_LENGTH, "in"},
    {"'", DIM_LENGTH, "ft"},
    {"in.", DIM_LENGTH, "in"},
    {"thou", DIM_LENGTH, "mil"},
    {"μm", DIM_LENGTH, "um"},
    {"m", DIM_TIME, "min"},
    {"m", DIM_LENGTH, "m"},
    {"m", DIMENSIONS, "m"},
    {"N·m", DIM_MOMENT, "Nm"},
    {"N m", DIM_MOMENT, "Nm"},
    {"nm", DIM_MOMENT, "Nm"},
    {"ft·lbf", DIM_MOMENT, "ft-lb"},
    {"lb-ft", DIM_MOMENT, "ft-lb"},
    {"FT LB", DIM_MOMENT, "ft-lb"},
    {"mm²", DIM_AREA, "mm2"},
    {"mm^2", DIM_AREA, "mm2"},
    {"N/mm²", DIM_STRESS, "MPa"},
    {"MJ", DIM_ENERGY, "MJ"},
    {"mV", DIM_VOLTAGE, "mV"},
    {"c", DIM_TEMPERATURE, "degC"},
    {"deg F", DIM_TEMPERATURE, "degF"},
    {"º", DIM_ANGLE, "deg"},
    {"L/min", DIM_GAS_FLOW, "l/min"},
    {"kg", DIM_FORCE, "kgf"},
    {"kg", DIMENSIONS, "kg"},
    {"lb", DIMENSIONS, "lb"},
    {"lb", DIM_FORCE, "lbf"},
    {"millimetre", DIM_LENGTH, "mm"},
    {"cm3/100g", DIM_HYDROGEN, "ml/100g"},
    {"furlong", DIM_LENGTH, NULL},
    {"", DIM_LENGTH, NULL},
    {" ", DIM_LENGTH, NULL},
    {"V", DIM_LENGTH, NULL},
    {"mm2", DIM_LENGTH, NULL},
    {"a name far longer than any unit there could ever be", DIMENSIONS, NULL},
};

START_TEST(units_are_found_by_what_people_write)
{
    const struct unit *u = unit_find(names[_i].name, strlen(names[_i].name), names[_i].dimension);

    if (names[_i].key == NULL)
        ck_assert_msg(u == NULL, "'%s' taken as %s", names[_i].name, u == NULL ? "" : u->key);
    else
        ck_assert_msg(u != NULL && strcmp(u->key, names[_i].key) == 0, "'%s' is %s, not %s",
                      names[_i].name, u == NULL ? "unknown" : u->key, names[_i].key);
}
END_TEST

/* Manufacturers' Standard Gauge for sheet steel, in inches as published in steel handbooks. */
static const struct {
    int gauge;
    double in;
} gauges[] = {
    {3, .2391},  {4, .2242},  {5, .2092},  {6, .1943},  {7, .1793},  {8, .1644},
    {9, .1495},  {10, .1345}, {11, .1196}, {12, .1046}, {13, .0897}, {14, .0747},
    {15, .0673}, {16, .0598}, {17, .0538}, {18, .0478}, {19, .0418}, {20, .0359},
    {21, .0329}, {22, .0299}, {23, .0269}, {24, .0239}, {25, .0209}, {26, .0179},
    {27, .0164}, {28, .0149}, {29, .0135}, {30, .0120}, {31, .0105}, {32, .0097},
    {33, .0090}, {34, .0082}, {35, .0075}, {36, .0067}, {37, .0064}, {38, .0060},
};

/* A name ends where its length says, also in the middle of a letter. */
START_TEST(a_name_ends_at_its_length)
{
    ck_assert_str_eq(unit_find("mm²", 4, DIMENSIONS)->key, "mm2");
    ck_assert_ptr_null(unit_find("mm²", 3, DIMENSIONS));
    ck_assert_str_eq(unit_find("mm²", 2, DIMENSIONS)->key, "mm");
    ck_assert_str_eq(unit_find("mm rest", 3, DIMENSIONS)->key, "mm");
    ck_assert_ptr_null(unit_find("mm", 0, DIMENSIONS));
}
END_TEST

START_TEST(gauges_are_the_manufacturers_standard)
{
    for (size_t i = 0; i < sizeof gauges / sizeof *gauges; i++)
        ck_assert_double_eq_tol(gauge_mm(gauges[i].gauge) / 25.4, gauges[i].in, 5.1e-5);
    /* The statutory gauge has 10 ga at .1406 in: a different table. */
    ck_assert_double_gt(fabs(gauge_mm(10) / 25.4 - .1406), .005);
    ck_assert_double_nan(gauge_mm(2));
    ck_assert_double_nan(gauge_mm(39));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/units");
    TCase *t = tcase_create("units");

    tcase_add_loop_test(t, factors_are_those_of_nist, 0, sizeof nist / sizeof *nist);
    tcase_add_test(t, temperatures);
    tcase_add_test(t, weld_figures_of_the_trade);
    tcase_add_test(t, rows_are_sound);
    tcase_add_test(t, every_dimension_has_a_base_unit);
    tcase_add_loop_test(t, units_are_found_by_what_people_write, 0, sizeof names / sizeof *names);
    tcase_add_test(t, a_name_ends_at_its_length);
    tcase_add_test(t, gauges_are_the_manufacturers_standard);
    suite_add_tcase(s, t);
    return s;
}
