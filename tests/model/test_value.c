#include "run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "model/coupon.h"

static struct variable_list variables;
static struct coupon coupon;

static void set_up(void)
{
    variable_list_init(&variables);
    coupon_init(&coupon);
}

static void tear_down(void)
{
    coupon_free(&coupon);
    variable_list_free(&variables);
}

static int set(const char *key, const char *text, enum unit_system system, char question[512],
               struct error *e)
{
    struct intake in = {.units = system, .sure = true, .error = e};
    int rc = coupon_set_from_text(&coupon, variable_find(&variables, key), text, &in);

    memcpy(question, in.question, sizeof in.question);
    return rc;
}

/* What is entered, in which book, and how it is shown in a book of each system. */
static const struct {
    const char *key, *text;
    enum unit_system system;
    const char *metric, *inch;
} shown[] = {
    {"thickness", "5/16 in", UNITS_METRIC, "5/16 in (7.94 mm)", "5/16 in"},
    {"thickness", "5/16", UNITS_INCH, "5/16 in (7.94 mm)", "5/16 in"},
    {"thickness", "6", UNITS_METRIC, "6 mm", "6 mm (0.236 in)"},
    {"thickness", "0,6 cm", UNITS_METRIC, "0.6 cm (6 mm)", "0.6 cm (0.236 in)"},
    {"thickness", "11 ga", UNITS_METRIC, "11 ga (manufacturers' standard, 3.04 mm)",
     "11 ga (manufacturers' standard, 0.12 in)"},
    {"preheat", "250F", UNITS_METRIC, "250 °F (121 °C)", "250 °F"},
    {"passes", "3", UNITS_METRIC, "3", "3"},
    {"bend_angle", "135+", UNITS_METRIC, "at least 135°", "at least 135°"},
    {"bend_angle", "90", UNITS_METRIC, "90°", "90°"},
    {"longest_unfused", "2..3", UNITS_INCH, "50.8 mm to 76.2 mm", "2 in to 3 in"},
    {"root_gap", "0 in", UNITS_METRIC, "0 in (0 mm)", "0 in"},
    {"position", "pb", UNITS_METRIC, "PB", "PB"},
    {"process", "135", UNITS_METRIC, "135 MAG solid wire", "135 MAG solid wire"},
    {"process", "13", UNITS_METRIC, "13", "13"},
    {"machine", "the old blue one", UNITS_METRIC, "the old blue one", "the old blue one"},
};

START_TEST(entries_are_shown_as_given)
{
    char question[512], out[128];
    struct error e = {0};
    const struct variable *v = variable_find(&variables, shown[_i].key);

    ck_assert_msg(set(shown[_i].key, shown[_i].text, shown[_i].system, question, &e) == 0, "%s",
                  e.text);
    ck_assert_str_eq(question, "");
    value_show(out, sizeof out, coupon_value(&coupon, shown[_i].key), v, UNITS_METRIC);
    ck_assert_str_eq(out, shown[_i].metric);
    value_show(out, sizeof out, coupon_value(&coupon, shown[_i].key), v, UNITS_INCH);
    ck_assert_str_eq(out, shown[_i].inch);
}
END_TEST

START_TEST(a_value_whose_entry_no_longer_fits_is_shown_from_the_number)
{
    char out[64];

    coupon_set_number(&coupon, "thickness", measure_exact(6), "5/16 in");
    value_show(out, sizeof out, coupon_value(&coupon, "thickness"),
               variable_find(&variables, "thickness"), UNITS_METRIC);
    ck_assert_str_eq(out, "6 mm");
    coupon_set_number(&coupon, "thickness", measure_exact(6), NULL);
    value_show(out, sizeof out, coupon_value(&coupon, "thickness"),
               variable_find(&variables, "thickness"), UNITS_INCH);
    ck_assert_str_eq(out, "0.236 in");
    value_show(out, sizeof out, NULL, variable_find(&variables, "thickness"), UNITS_METRIC);
    ck_assert_str_eq(out, "");
}
END_TEST

static const struct {
    const char *key, *text, *says;
} refused[] = {
    {"thickness", "-3", "Thickness: -3 mm cannot be"},
    {"volts", "400 V", "Volts: 400 V cannot be"},
    {"volts", "12 mm", "Volts: '12 mm' is a length; a voltage is wanted"},
    {"polarity", "reverse", "Polarity: 'reverse' is not among DCEP, DCEN, AC"},
    {"arc_energy", "1", "Arc energy is worked out, not entered; enter volts, amps, travel_speed"},
    {"machine", "two\nlines", "Machine: write one line of plain text"},
    {"bend_angle", "100..300", "Bend angle: 300° cannot be"},
    {"thickness", "3..5 mm", "Thickness: '3..5 mm' is a limit, which only a result can be"},
    {"thickness", "3+", "Thickness: '3+' is a limit, which only a result can be; write one value"},
};

START_TEST(what_cannot_be_is_refused_and_nothing_changes)
{
    char question[512];
    struct error e = {0};

    ck_assert_int_lt(set(refused[_i].key, refused[_i].text, UNITS_METRIC, question, &e), 0);
    ck_assert_msg(strncmp(e.text, refused[_i].says, strlen(refused[_i].says)) == 0, "%s", e.text);
    ck_assert_uint_eq(coupon.value_count, 0);
}
END_TEST

/* Until the user is sure, what was there stays. */
START_TEST(the_unusual_waits_for_an_answer)
{
    struct intake in = {.units = UNITS_METRIC};
    const struct variable *volts = variable_find(&variables, "volts");

    ck_assert_int_eq(coupon_set_from_text(&coupon, volts, "20", &in), 0);
    ck_assert(!intake_asks(&in));
    ck_assert_int_eq(coupon_set_from_text(&coupon, volts, "40", &in), 0);
    ck_assert(intake_asks(&in));
    ck_assert_double_eq(coupon_value(&coupon, "volts")->measure.low, 20);
    in.sure = true;
    ck_assert_int_eq(coupon_set_from_text(&coupon, volts, "40", &in), 0);
    ck_assert(!intake_asks(&in));
    ck_assert_double_eq(coupon_value(&coupon, "volts")->measure.low, 40);
}
END_TEST

/* The end of a range that cannot be is told, though the other is only unusual. */
START_TEST(the_worse_end_of_a_range_counts)
{
    struct error e = {0};
    struct intake in = {.units = UNITS_METRIC, .sure = true, .error = &e};
    const struct variable *angle = variable_find(&variables, "bend_angle");

    ck_assert_int_lt(coupon_set_from_text(&coupon, angle, "20..400", &in), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "400° cannot be"));
    ck_assert_ptr_null(coupon_value(&coupon, "bend_angle"));
}
END_TEST

START_TEST(the_unusual_is_taken_with_a_question)
{
    char question[512];
    struct error e = {0};

    ck_assert_int_eq(set("volts", "40", UNITS_METRIC, question, &e), 0);
    ck_assert_str_eq(question, "Volts: 40 V is unusual, mostly it is 13 V to 36 V");
    ck_assert_double_eq(coupon_value(&coupon, "volts")->measure.low, 40);
    ck_assert_int_eq(set("volts", "20", UNITS_METRIC, question, &e), 0);
    ck_assert_str_eq(question, "");
    ck_assert_int_eq(set("volts", "  ", UNITS_METRIC, question, &e), 0);
    ck_assert_ptr_null(coupon_value(&coupon, "volts"));
}
END_TEST

START_TEST(only_a_bare_number_may_have_been_meant_otherwise)
{
    char question[512];
    struct error e = {0};

    ck_assert_int_lt(set("wire_diameter", ".045", UNITS_METRIC, question, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "; if you mean in, write 0.045 in"));
    ck_assert_int_lt(set("wire_diameter", ".045 mm", UNITS_METRIC, question, &e), 0);
    ck_assert_ptr_null(strstr(e.text, "if you mean"));
    ck_assert_int_eq(set("preheat", "450", UNITS_METRIC, question, &e), 0);
    ck_assert_ptr_nonnull(strstr(question, "; if you mean °F, write 450 °F"));
    ck_assert_int_eq(set("preheat", "450C", UNITS_METRIC, question, &e), 0);
    ck_assert_ptr_null(strstr(question, "if you mean"));
    ck_assert_int_eq(set("wire_diameter", ".045", UNITS_INCH, question, &e), 0);
    ck_assert_str_eq(question, "");
}
END_TEST

START_TEST(an_own_unit_may_stand_behind_the_number)
{
    struct variable own = {.key = "hardness",
                           .label = "Hardness",
                           .unit = "HV",
                           .kind = VARIABLE_NUMBER,
                           .group = GROUP_RESULT,
                           .role = ROLE_RESULT,
                           .can = {0, INFINITY},
                           .usual = {0, INFINITY}};
    char question[512], out[64];
    struct error e = {0};

    ck_assert_int_eq(variable_add(&variables, &own, &e), 0);
    ck_assert_int_eq(set("hardness", "250 hv", UNITS_METRIC, question, &e), 0);
    value_show(out, sizeof out, coupon_value(&coupon, "hardness"),
               variable_find(&variables, "hardness"), UNITS_METRIC);
    ck_assert_str_eq(out, "250 HV");
    ck_assert_int_eq(set("hardness", "250+", UNITS_METRIC, question, &e), 0);
    value_show(out, sizeof out, coupon_value(&coupon, "hardness"),
               variable_find(&variables, "hardness"), UNITS_METRIC);
    ck_assert_str_eq(out, "at least 250 HV");
}
END_TEST

/* A unit of the user's own that the table knows: an entry in another of its kind is converted. */
START_TEST(an_own_unit_of_the_table_is_converted)
{
    struct variable own = {.key = "nozzle", .label = "Nozzle", .unit = "mm", .group = GROUP_OTHER};
    char question[512], out[64];
    struct error e = {0};

    ck_assert_int_eq(variable_add(&variables, &own, &e), 0);
    ck_assert_int_eq(set("nozzle", "5/8 in", UNITS_METRIC, question, &e), 0);
    ck_assert_double_eq(coupon_value(&coupon, "nozzle")->measure.low, 15.875);
    value_show(out, sizeof out, coupon_value(&coupon, "nozzle"),
               variable_find(&variables, "nozzle"), UNITS_METRIC);
    ck_assert_str_eq(out, "5/8 in (15.875 mm)");
    ck_assert_int_eq(set("nozzle", "16", UNITS_INCH, question, &e), 0);
    ck_assert_double_eq(coupon_value(&coupon, "nozzle")->measure.low, 16);
    value_show(out, sizeof out, coupon_value(&coupon, "nozzle"),
               variable_find(&variables, "nozzle"), UNITS_INCH);
    ck_assert_str_eq(out, "16 mm");
    ck_assert_int_eq(set("nozzle", "0 in", UNITS_METRIC, question, &e), 0);
    value_show(out, sizeof out, coupon_value(&coupon, "nozzle"),
               variable_find(&variables, "nozzle"), UNITS_METRIC);
    ck_assert_str_eq(out, "0 in (0 mm)");
    coupon_set_number(&coupon, "nozzle", measure_exact(15), "5/8 in");
    value_show(out, sizeof out, coupon_value(&coupon, "nozzle"),
               variable_find(&variables, "nozzle"), UNITS_METRIC);
    ck_assert_str_eq(out, "15 mm");
    ck_assert_int_lt(set("nozzle", "16 V", UNITS_METRIC, question, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "Nozzle: '16 V' is a voltage; a length is wanted"));
}
END_TEST

START_TEST(values_are_compared_by_what_they_say)
{
    char t[] = "thickness", g[] = "gas", entry[] = "5/16 in", co2[] = "CO2", ar[] = "Ar";
    struct value a = {t, VARIABLE_NUMBER, measure_exact(7.9375), entry};
    struct value b = {t, VARIABLE_NUMBER, measure_exact(7.9375), NULL};
    struct value c = {t, VARIABLE_NUMBER, measure_at_least(7.9375), NULL};
    struct value x = {g, VARIABLE_CATEGORY, measure_missing(), co2};
    struct value y = {g, VARIABLE_CATEGORY, measure_missing(), ar};

    ck_assert(value_same(&a, &b));
    ck_assert(!value_same(&a, &c));
    ck_assert(!value_same(&a, &x));
    ck_assert(value_same(&x, &x) && !value_same(&x, &y));
    ck_assert(!value_same(&a, NULL) && value_same(NULL, NULL));
}
END_TEST

/* A choice with a number is one category, however it is written. */
START_TEST(a_numbered_choice_is_stored_by_its_number)
{
    static const char *const ways[] = {"135", "135 MAG solid wire", "135 mag SOLID wire"};
    struct variable_list list;
    struct coupon c;

    variable_list_init(&list);
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        coupon_init(&c);
        ck_assert_int_eq(coupon_set_from_text(&c, variable_find(&list, "process"), ways[i],
                                              &(struct intake){.units = UNITS_METRIC}),
                         0);
        ck_assert_str_eq(coupon_value(&c, "process")->text, "135");
        coupon_free(&c);
    }
    variable_list_free(&list);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/value");
    TCase *t = tcase_create("value");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, entries_are_shown_as_given, 0, sizeof shown / sizeof *shown);
    tcase_add_test(t, a_value_whose_entry_no_longer_fits_is_shown_from_the_number);
    tcase_add_loop_test(t, what_cannot_be_is_refused_and_nothing_changes, 0,
                        sizeof refused / sizeof *refused);
    tcase_add_test(t, the_unusual_waits_for_an_answer);
    tcase_add_test(t, the_worse_end_of_a_range_counts);
    tcase_add_test(t, the_unusual_is_taken_with_a_question);
    tcase_add_test(t, only_a_bare_number_may_have_been_meant_otherwise);
    tcase_add_test(t, an_own_unit_may_stand_behind_the_number);
    tcase_add_test(t, an_own_unit_of_the_table_is_converted);
    tcase_add_test(t, values_are_compared_by_what_they_say);
    tcase_add_test(t, a_numbered_choice_is_stored_by_its_number);
    suite_add_tcase(s, t);
    return s;
}
