#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/quantity.h"

#define IN 25.4
#define LBF 4.4482216152605

struct good {
    const char *text;
    enum dimension dimension;
    enum unit_system system;
    double value; /* base unit */
    const char *entry;
};

#define MET UNITS_METRIC
#define INCH UNITS_INCH
#define ZEROS "0000000000000000000000000000000000000000000000000000000"

/* Values follow from the definitions of the units (1 in = 25.4 mm and so on). */
static const struct good goods[] = {
    {"5/16", DIM_LENGTH, INCH, 5 * IN / 16, "5/16 in"},
    {"5/16", DIM_LENGTH, MET, 5 * IN / 16, "5/16 in"},
    {"5/16in", DIM_LENGTH, MET, 5 * IN / 16, "5/16 in"},
    {" 5/16 in. ", DIM_LENGTH, MET, 5 * IN / 16, "5/16 in"},
    {"5/16\"", DIM_LENGTH, MET, 5 * IN / 16, "5/16 in"},
    {"5/16”", DIM_LENGTH, MET, 5 * IN / 16, "5/16 in"},
    {"1-1/4\"", DIM_LENGTH, MET, 1.25 * IN, "1-1/4 in"},
    {"1 1/4 in", DIM_LENGTH, MET, 1.25 * IN, "1 1/4 in"},
    {"1¼ in", DIM_LENGTH, MET, 1.25 * IN, "1¼ in"},
    {"½", DIM_LENGTH, MET, 0.5 * IN, "½ in"},
    {"-5/16", DIM_LENGTH, MET, -5 * IN / 16, "-5/16 in"},
    {".045", DIM_LENGTH, INCH, .045 * IN, ".045 in"},
    {".045", DIM_LENGTH, MET, .045, ".045 mm"},
    {".045in", DIM_LENGTH, MET, .045 * IN, ".045 in"},
    {"1,2mm", DIM_LENGTH, INCH, 1.2, "1.2 mm"},
    {"0.9", DIM_LENGTH, MET, .9, "0.9 mm"},
    {"1,2 MM", DIM_LENGTH, MET, 1.2, "1.2 mm"},
    {"15 cm", DIM_LENGTH, MET, 150, "15 cm"},
    {"40 thou", DIM_LENGTH, MET, 40 * IN / 1000, "40 mil"},
    {"1 ft 6 in", DIM_LENGTH, MET, 18 * IN, "1 ft 6 in"},
    {"1'6\"", DIM_LENGTH, MET, 18 * IN, "1 ft 6 in"},
    {"0 ft 6 in", DIM_LENGTH, MET, 6 * IN, "0 ft 6 in"},
    {"1 ft 0 in", DIM_LENGTH, MET, 12 * IN, "1 ft 0 in"},
    {"11 ga", DIM_LENGTH, MET, 80. / 16 / 41.82 * IN, "11 ga (manufacturers' standard)"},
    {"11ga.", DIM_LENGTH, MET, 80. / 16 / 41.82 * IN, "11 ga (manufacturers' standard)"},
    {"16 Gauge", DIM_LENGTH, INCH, 40. / 16 / 41.82 * IN, "16 ga (manufacturers' standard)"},
    {"11 ga (manufacturers' standard)", DIM_LENGTH, MET, 80. / 16 / 41.82 * IN,
     "11 ga (manufacturers' standard)"},
    {"250F", DIM_TEMPERATURE, MET, 1090 / 9.0, "250 °F"},
    {"250 °F", DIM_TEMPERATURE, MET, 1090 / 9.0, "250 °F"},
    {"250", DIM_TEMPERATURE, INCH, 1090 / 9.0, "250 °F"},
    {"120 °C", DIM_TEMPERATURE, INCH, 120, "120 °C"},
    {"120 deg C", DIM_TEMPERATURE, INCH, 120, "120 °C"},
    {"-10", DIM_TEMPERATURE, MET, -10, "-10 °C"},
    {"−10 °C", DIM_TEMPERATURE, MET, -10, "-10 °C"},
    {"300 K", DIM_TEMPERATURE, MET, 26.85, "300 K"},
    {"12 ipm", DIM_SPEED, MET, 12 * IN, "12 in/min"},
    {"12", DIM_SPEED, INCH, 12 * IN, "12 in/min"},
    {"300 mm/min", DIM_SPEED, INCH, 300, "300 mm/min"},
    {"5 mm/s", DIM_SPEED, MET, 300, "5 mm/s"},
    {"30cm/min", DIM_SPEED, MET, 300, "30 cm/min"},
    {"7,5 m/min", DIM_SPEED, MET, 7500, "7.5 m/min"},
    {"1m20s", DIM_TIME, MET, 80, "1 min 20 s"},
    {"1 min 20", DIM_TIME, MET, 80, "1 min 20 s"},
    {"1h 2m 3.5s", DIM_TIME, MET, 3723.5, "1 h 2 min 3.5 s"},
    {"1:20", DIM_TIME, MET, 80, "1:20"},
    {"1:02:03.5", DIM_TIME, MET, 3723.5, "1:02:03.5"},
    {"90", DIM_TIME, INCH, 90, "90 s"},
    {"0:45", DIM_TIME, MET, 45, "0:45"},
    {"17.5 V", DIM_VOLTAGE, MET, 17.5, "17.5 V"},
    {"17,5", DIM_VOLTAGE, MET, 17.5, "17.5 V"},
    {"0.13 kA", DIM_CURRENT, MET, 130, "0.13 kA"},
    {"36 ksi", DIM_STRESS, MET, 36 * LBF * 1000 / (IN * IN), "36 ksi"},
    {"50000psi", DIM_STRESS, MET, 50000 * LBF / (IN * IN), "50000 psi"},
    {"250", DIM_STRESS, MET, 250, "250 MPa"},
    {"30 cfh", DIM_GAS_FLOW, MET, 14.158423296, "30 cfh"},
    {"14 L/min", DIM_GAS_FLOW, INCH, 14, "14 l/min"},
    {"180 lb", DIM_FORCE, MET, 180 * LBF, "180 lbf"},
    {"80 kg", DIM_FORCE, MET, 784.532, "80 kgf"},
    {"1.2 kN", DIM_FORCE, MET, 1200, "1.2 kN"},
    {"90 ft-lb", DIM_MOMENT, MET, 90 * LBF * .3048, "90 ft-lb"},
    {"0.424 lb/ft", DIM_LINE_MASS, MET, 0.424 * 453.59237 / .3048, "0.424 lb/ft"},
    {"85 %", DIM_SHARE, MET, 85, "85 %"},
    {"85", DIM_SHARE, MET, 85, "85 %"},
    {"135°", DIM_ANGLE, MET, 135, "135°"},
    {"135 deg", DIM_ANGLE, MET, 135, "135°"},
    {"20 kJ/in", DIM_LINE_ENERGY, MET, 20 / IN, "20 kJ/in"},
    {"5 ml/100g", DIM_HYDROGEN, MET, 5, "5 ml/100 g"},
    {"3", DIM_COUNT, MET, 3, "3"},
    {"1e3", DIM_NUMBER, MET, 1000, "1e3"},
    {"+0,25", DIM_NUMBER, MET, .25, "+0.25"},
    {"1/4", DIM_NUMBER, MET, .25, "1/4"},
    {"999999999999999/3", DIM_NUMBER, MET, 333333333333333, "999999999999999/3"},
    {"¾", DIM_NUMBER, MET, .75, "¾"},
    {"1000000000", DIM_COUNT, MET, 1e9, "1000000000"},
    {"                                                           3 mm", DIM_LENGTH, MET, 3, "3 mm"},
    {"3 ga", DIM_LENGTH, MET, 160. / 16 / 41.82 * IN, "3 ga (manufacturers' standard)"},
    /* an entry of 63 bytes, the most that is kept */
    {ZEROS "00003in", DIM_LENGTH, MET, 3 * IN, ZEROS "00003 in"},
    {"38 ga", DIM_LENGTH, MET, 4. / 16 / 41.82 * IN, "38 ga (manufacturers' standard)"},
};

START_TEST(a_shop_writes_so)
{
    const struct good *g = &goods[_i];
    struct quantity q, again;
    struct error e = {0};

    ck_assert_msg(quantity_parse(g->text, g->dimension, g->system, &q, &e) == 0, "%s: %s", g->text,
                  e.text);
    ck_assert_msg(fabs(q.value - g->value) <= 1e-12 * fabs(g->value), "%s: %.15g", g->text,
                  q.value);
    ck_assert_str_eq(q.entry, g->entry);
    /* The entry is read again as the same value in a book of either system. */
    for (enum unit_system s = UNITS_METRIC; s <= UNITS_INCH; s++) {
        ck_assert_msg(quantity_parse(q.entry, g->dimension, s, &again, &e) == 0, "%s", e.text);
        ck_assert_double_eq(again.value, q.value);
        ck_assert_str_eq(again.entry, q.entry);
    }
}
END_TEST

static const struct {
    const char *text;
    enum dimension dimension;
    const char *says;
} bads[] = {
    {"", DIM_LENGTH, "nothing is written; a length is wanted, such as 3 mm, 5/16 in or 11 ga"},
    {"  \t", DIM_TIME, "nothing is written; a time is wanted, such as 45 s, 1m20s or 1:20"},
    {"12 V", DIM_LENGTH,
     "'12 V' is a voltage; a length is wanted, in mm, cm, m, µm, in, ft or mil"},
    {"3 mm", DIM_VOLTAGE, "'3 mm' is a length; a voltage is wanted, in V, mV or kV"},
    {"3 furlong", DIM_LENGTH,
     "'3 furlong' has a unit that is not known for a length; use mm, cm, m, µm, in, ft or mil"},
    {"thick", DIM_LENGTH, "'thick' is not a length; write it like 3 mm, 5/16 in or 11 ga"},
    {"3/0", DIM_LENGTH, "'3/0' is not a length; write it like 3 mm, 5/16 in or 11 ga"},
    {"3/", DIM_LENGTH, NULL},
    {"1000000000000000/3", DIM_NUMBER, NULL},
    {"1 4/4", DIM_LENGTH, NULL},
    {"1000000001", DIM_COUNT, NULL},
    {"                                                            3 mm", DIM_LENGTH, NULL},
    {ZEROS "000003in", DIM_LENGTH, NULL}, /* its entry would be too long by a byte */
    {"/16", DIM_LENGTH, NULL},
    {"1-9/2", DIM_LENGTH, NULL},
    {"5/16/2", DIM_LENGTH, NULL},
    {"--3", DIM_LENGTH, NULL},
    {"3 mm 5 cm", DIM_LENGTH, NULL},
    {"1 in 2 in", DIM_LENGTH, NULL}, /* two parts of one unit */
    {"-1 ft 6 in", DIM_LENGTH, NULL},
    {"1 ft -6 in", DIM_LENGTH, NULL},
    {"5' 6", DIM_LENGTH, NULL},
    {"3 4", DIM_LENGTH, NULL},
    {"-1m20s", DIM_TIME, NULL},
    {"20s1m", DIM_TIME, NULL},
    {"1:75", DIM_TIME, NULL},
    {"1:2:3:4", DIM_TIME, NULL},
    {"1:", DIM_TIME, NULL},
    {":20", DIM_TIME, NULL},
    {"1.5:20", DIM_TIME, NULL},
    {"-1:20", DIM_TIME, NULL},
    {"2 ga", DIM_LENGTH,
     "'2 ga': the manufacturers' standard gauge runs from 3 to 38; write 11 ga, 3 mm or 5/16 in"},
    {"99999999999999999999 ga", DIM_LENGTH, NULL},
    {"16 ga galvanised", DIM_LENGTH,
     "'16 ga galvanised': only the manufacturers' standard gauge of steel sheet is known; write "
     "the "
     "thickness, such as 1.6 mm or 0.064 in"},
    {"2.5", DIM_COUNT, "'2.5' is not a whole number; write it like 2"},
    {"3 mm", DIM_COUNT, "'3 mm' should be a whole number, without a unit"},
    {"12 V", DIM_NUMBER, "'12 V' should be a bare number, without a unit"},
    {"1e300 m", DIM_LENGTH, NULL},
    {"1e308 kip", DIM_FORCE, "'1e308 kip' is too large"},
    {"1e999", DIM_LENGTH, NULL},
    {"nan", DIM_LENGTH, NULL},
    {"inf mm", DIM_LENGTH, NULL},
    {"0x10", DIM_LENGTH, NULL},
    {"1,234.5", DIM_LENGTH, NULL},
    {"\xff\xfe", DIM_LENGTH,
     "'(not readable)' is not a length; write it like 3 mm, 5/16 in or 11 ga"},
    {"3\033[2J", DIM_LENGTH, NULL},
    {"12345678901234567890123456789012345678901234567890123456789012345 mm", DIM_LENGTH,
     "'1234567890123456789012345678901234567890…' is not a length; write it like 3 mm, 5/16 in or "
     "11 ga"},
};

START_TEST(what_cannot_be_read_is_refused_with_what_would_be_right)
{
    struct quantity q;
    struct error e = {0};
    int result = quantity_parse(bads[_i].text, bads[_i].dimension, UNITS_METRIC, &q, &e);

    if (strncmp(bads[_i].text, "1e300", 5) ==
        0) { /* large, but a number: for the limits to judge */
        ck_assert_int_eq(result, 0);
        return;
    }
    ck_assert_msg(result < 0, "'%s' gave %g", bads[_i].text, q.value);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_ptr_null(strchr(e.text, '\n'));
    if (bads[_i].says != NULL)
        ck_assert_str_eq(e.text, bads[_i].says);
    ck_assert_int_eq(quantity_parse(bads[_i].text, bads[_i].dimension, UNITS_INCH, &q, NULL), -1);
}
END_TEST

START_TEST(under_a_header_with_a_unit_bare_numbers_take_it)
{
    const struct quantity_form under_in = {DIM_LENGTH, UNITS_METRIC,
                                           unit_find("in", 2, DIM_LENGTH)};
    const struct quantity_form under_mm = {DIM_LENGTH, UNITS_METRIC,
                                           unit_find("mm", 2, DIM_LENGTH)};
    struct quantity q;

    ck_assert_int_eq(quantity_parse_as("2", &under_in, &q, NULL), 0);
    ck_assert_double_eq(q.value, 2 * IN);
    ck_assert_int_eq(quantity_parse_as("3/4", &under_mm, &q, NULL), 0);
    ck_assert_double_eq(q.value, 0.75);
    ck_assert_int_eq(quantity_parse_as("2 cm", &under_in, &q, NULL), 0);
    ck_assert_double_eq(q.value, 20);
}
END_TEST

static const struct {
    double value;
    enum dimension dimension;
    enum unit_system system;
    const char *shown;
} shown[] = {
    {7.9375, DIM_LENGTH, MET, "7.94 mm"},
    {7.9375, DIM_LENGTH, INCH, "0.312 in"},
    {1.143, DIM_LENGTH, MET, "1.14 mm"},
    {1.143, DIM_LENGTH, INCH, "0.045 in"},
    {0.004, DIM_LENGTH, MET, "0.004 mm"},
    {0, DIM_LENGTH, MET, "0 mm"},
    {120, DIM_TEMPERATURE, MET, "120 °C"},
    {120, DIM_TEMPERATURE, INCH, "248 °F"},
    {300, DIM_SPEED, MET, "300 mm/min"},
    {300, DIM_SPEED, INCH, "11.8 in/min"},
    {1.1988, DIM_LINE_ENERGY, MET, "1.2 kJ/mm"},
    {1.1988, DIM_LINE_ENERGY, INCH, "30.4 kJ/in"},
    {135, DIM_ANGLE, MET, "135°"},
    {135, DIM_ANGLE, INCH, "135°"},
    {85.25, DIM_SHARE, MET, "85.2 %"},
    {17.5, DIM_VOLTAGE, INCH, "17.5 V"},
    {14, DIM_GAS_FLOW, INCH, "30 cfh"},
    {250, DIM_STRESS, INCH, "36.3 ksi"},
    {3, DIM_COUNT, MET, "3"},
    {2.0 / 3, DIM_NUMBER, MET, "0.6667"},
    {NAN, DIM_LENGTH, MET, "–"},
    {1e300, DIM_LENGTH, MET, "1e+300 mm"},
    {-0.0001, DIM_LENGTH, MET, "-0.0001 mm"},
    {122.0236153497, DIM_MOMENT, INCH, "90 ft-lb"},
    {12.4, DIM_COUNT, MET, "12"},
    {1e9, DIM_LENGTH, MET, "1e+09 mm"},
    {999999999, DIM_LENGTH, MET, "999999999 mm"},
    {1e-9, DIM_LENGTH, MET, "0.000000001 mm"},
    {-1.25e-9, DIM_LENGTH, MET, "-0.0000000013 mm"}, /* two figures; the double is above a half */
    {9.5e-10, DIM_LENGTH, MET, "9.5e-10 mm"},
    {0, DIM_COUNT, MET, "0"},
};

START_TEST(numbers_are_shown_to_what_a_bench_can_use)
{
    char out[64];

    quantity_format(out, sizeof out, shown[_i].value, shown[_i].dimension, shown[_i].system);
    ck_assert_str_eq(out, shown[_i].shown);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/quantity");
    TCase *t = tcase_create("quantity");

    tcase_add_loop_test(t, a_shop_writes_so, 0, sizeof goods / sizeof *goods);
    tcase_add_loop_test(t, what_cannot_be_read_is_refused_with_what_would_be_right, 0,
                        sizeof bads / sizeof *bads);
    tcase_add_test(t, under_a_header_with_a_unit_bare_numbers_take_it);
    tcase_add_loop_test(t, numbers_are_shown_to_what_a_bench_can_use, 0,
                        sizeof shown / sizeof *shown);
    suite_add_tcase(s, t);
    return s;
}
