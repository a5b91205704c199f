/* Arguments as they are read: what is refused, lists, and rows filled by a caller. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "line.h"

/* What is wrong is said with what would be right. */
START_TEST(refusals_name_the_right_ones)
{
    static const struct {
        const char *line;
        enum error_kind kind;
        const char *says;
    } rows[] = {
        {"brazing|volts=20", ERROR_USAGE, "heat, cooling"},
        {"heat|volt=20", ERROR_USAGE, "volts, amps"},
        {"heat|volts=20", ERROR_USAGE, "amps and speed"},
        {"heat|volts", ERROR_USAGE, "key=value"},
        {"heat|volts=20|volts=21", ERROR_USAGE, "twice"},
        {"heat|volts=|amps=3", ERROR_INPUT, "missing"},
        {"heat|volts=20x|amps=300|speed=150", ERROR_INPUT, "V"},
        {"heat|volts=20mm|amps=300|speed=150", ERROR_INPUT, "V"},
        {"heat|volts=20±x|amps=300|speed=150", ERROR_INPUT, "±"},
        {"heat|volts=20|amps=300|speed=150|process=311", ERROR_INPUT, "135"},
        {"cooling|heat_input=1|thickness=6|joint=scarf", ERROR_INPUT, "tee"},
        {"bend|flaws=0.1in; 3mm", ERROR_INPUT, "different limits"},
        {"bend|pores=1mm", ERROR_USAGE, "fused_to_root"},
        {"wire|table=2: 4; 4: 8", ERROR_USAGE, "dial"},
        {"wire|table=two: 4|dial=2", ERROR_INPUT, "4: 7.9m/min"},
        {"duty|log=quick", ERROR_INPUT, "time"},
        {"heat|volts=nan|amps=300|speed=150", ERROR_INPUT, "17.5 V"},
        {"heat|volts=±3|amps=300|speed=150", ERROR_INPUT, "voltage"},
        {"wire|diameter=1|feed=6|efficiency=1.5", ERROR_INPUT, "95%"},
        {"stock|coupons=2.5|piece=100", ERROR_INPUT, "coupons"},
        {"stock|coupons=-2|piece=100", ERROR_INPUT, "0 or more"},
        {"heat|volts=-20|amps=100|speed=300", ERROR_INPUT, "volts: -20 V cannot be"},
        {"heat|volts=2000|amps=100|speed=300", ERROR_INPUT, "2000 V cannot be, it must be 5 V to"},
        {"heat|volts=60.1|amps=100|speed=300", ERROR_INPUT, "60.1 V cannot be"},
        {"heat|volts=20|amps=1001|speed=300", ERROR_INPUT, "1001 A cannot be"},
        {"heat|volts=20|amps=100|speed=1e-300", ERROR_INPUT, "Travel speed"},
        {"heat|volts=20|amps=100|speed=0", ERROR_INPUT, "5 mm/min to 3000 mm/min"},
        {"wire|diameter=.045|feed=6", ERROR_INPUT, "Wire diameter"},
        {"wire|diameter=1.2|feed=600", ERROR_INPUT, "Wire feed speed"},
        {"wire|diameter=1.2|feed=6|speed=1e9", ERROR_INPUT, "Travel speed"},
        {"duty|rated=60|rated_amps=2|amps=100", ERROR_INPUT, "Amps"},
        {"duty|rated=60|rated_amps=200|amps=1e4", ERROR_INPUT, "Amps"},
        {"fillet|leg=5|throat=4", ERROR_USAGE, "leg or throat, not both"},
        {"hinge|thickness=6|throat=4|leg2=3", ERROR_USAGE, "throat or leg2, not both"},
        {"heat|energy=5|length=50|volts=20", ERROR_USAGE, "energy or volts, not both"},
        {"bend|thickness=5|radius=5|former=30", ERROR_USAGE, "radius or former"},
        {"wire|diameter=1|feed=6|dial=3|table=2: 4; 4: 8", ERROR_USAGE, "feed or dial"},
        {"duty|log=;;", ERROR_INPUT, "semicolons"},
        {"heat|volts=20±-1|amps=100|speed=300", ERROR_INPUT, "is no ±"},
        {"heat|volts=20±1kg|amps=100|speed=300", ERROR_INPUT, "no unit for this ±"},
        {"wire|table=2: 4; 4: 0|dial=3", ERROR_INPUT, "above 0"},
        {"wire|table=2: 4; 4: 8kg|dial=3", ERROR_INPUT, "table"},
        {"cooling|heat_input=1|thickness=6|f2=0", ERROR_INPUT, "f2 and f3"},
        {"cooling|heat_input=1|thickness=6|f3=0", ERROR_INPUT, "f2 and f3"},
        {"stock|coupons=1000001|piece=100", ERROR_INPUT, "million"},
        {"wire|machine=bench|dial=3", ERROR_USAGE, "no book"},
        {"hinge|coupons=held 4 6 1 1", ERROR_INPUT, "thickness, leg"},
        {"heat|speed=200|time=3s|volts=20", ERROR_USAGE, "speed or time"},
        {"bend|corners=3mm slag slag", ERROR_INPUT, "one word"},
        {"bend|flaws=-3", ERROR_INPUT, "0 or more"},
        {"wire|table=2: -4; 4: 8|dial=3", ERROR_INPUT, "above 0"},
        {"hinge|coupons=held -3 5", ERROR_INPUT, "above 0"},
        {"hinge|coupons=;", ERROR_INPUT, "above 0"},
        {"hinge|coupons=bent 3 5", ERROR_INPUT, "broke nor held"},
        {"hinge|coupons=held 3", ERROR_INPUT, "thickness"},
        {"fillet|leg1=4", ERROR_USAGE, "leg1 and leg2"},
        {"bend|gauge_before=25", ERROR_USAGE, "gauge_after"},
        {"bend|gauge_after=25", ERROR_USAGE, "gauge_before"},
        {"preheat|cet=.3|thickness=20|hydrogen=5", ERROR_USAGE, "heat_input"},
        {"carbon", ERROR_USAGE, "at least C"},
    };
    struct calc_answer a;
    struct error e;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++) {
        e = (struct error){0};
        ck_assert_msg(run(rows[i].line, UNITS_METRIC, &a, &e) != 0, "%s", rows[i].line);
        ck_assert_msg(strstr(e.text, rows[i].says) != NULL, "%s: %s", rows[i].line, e.text);
        ck_assert_msg(e.kind == rows[i].kind, "%s: kind %d", rows[i].line, (int)e.kind);
        ck_assert_uint_eq(a.figure_count, 0);
    }
}
END_TEST

/* Arguments of which one is missing ask for no figure. */
START_TEST(too_little_is_refused_with_what_is_needed)
{
    static const char *const lines[] = {
        "heat|energy=240",
        "heat|power=6kW",
        "heat|speed=150",
        "heat|volts=20|speed=150",
        "heat|amps=300|speed=150",
        "heat|volts=20|amps=300|length=100",
        "heat|volts=20|amps=300|time=30s",
        "cooling|heat_input=1",
        "cooling|thickness=6",
        "preheat|thickness=20|hydrogen=5|heat_input=1",
        "preheat|cet=.3|hydrogen=5|heat_input=1",
        "preheat|cet=.3|thickness=20|heat_input=1",
        "fillet|length=60",
        "hinge|leg=6",
        "hinge|throat=4",
        "bend|thickness=6",
        "bend|radius=6",
        "bend|former=24",
        "bend|before=90",
        "bend|leg=50",
        "duty|rated=60",
        "duty|rated_amps=200",
        "duty|amps=200",
        "stock|coupons=3",
        "stock|piece=100",
    };

    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct calc_answer a;
        struct error e = {0};

        ck_assert_msg(run(lines[i], UNITS_METRIC, &a, &e) != 0, "%s", lines[i]);
        ck_assert_msg(e.kind == ERROR_USAGE, "%s: %s", lines[i], e.text);
        ck_assert_msg(strstr(e.text, " needs ") != NULL, "%s: %s", lines[i], e.text);
    }
}
END_TEST

static int count_letters(char *item, void *context, struct error *e)
{
    size_t *letters = context;

    (void)e;
    letters[0]++;
    letters[1] += strlen(item);
    return 0;
}

/* An item has at most 63 letters, a list at most 256 items. */
START_TEST(lists_have_their_bounds)
{
    static const char sixty[] = "123456789012345678901234567890123456789012345678901234567890";
    size_t seen[2] = {0};
    char text[2 * 257 + 1] = "";
    struct error e;

    snprintf(text, sizeof text, "%s123; ab ;;c", sixty);
    ck_assert_int_eq(calc_list_read("flaws", text, count_letters, seen, &e), 0);
    ck_assert_uint_eq(seen[0], 3);
    ck_assert_uint_eq(seen[1], 63 + 2 + 1);
    snprintf(text, sizeof text, "%s1234; ab", sixty);
    ck_assert_int_ne(calc_list_read("flaws", text, count_letters, seen, &e), 0);
    ck_assert_str_eq(e.text, "flaws: at most 256, each in less than 64 letters, divided by "
                             "semicolons");
    seen[0] = 0;
    for (size_t i = 0; i < 256; i++)
        memcpy(text + 2 * i, i == 0 ? " 1" : ";1", 3);
    ck_assert_int_eq(calc_list_read("flaws", text, count_letters, seen, &e), 0);
    ck_assert_uint_eq(seen[0], 256);
    strcat(text, ";1");
    ck_assert_int_ne(calc_list_read("flaws", text, count_letters, seen, &e), 0);
}
END_TEST

/* A comma is a decimal comma between two digits only. */
START_TEST(commas_beside_a_blank_divide)
{
    static const struct {
        const char *text;
        size_t items;
    } rows[] = {{"2,5", 1}, {"2 ,5", 2}, {"2, 5", 2}, {",5", 1}, {"2,5;3,1", 2}, {"2 ,5;3", 3}};
    struct error e;

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t seen[2] = {0};

        ck_assert_int_eq(calc_list_read("flaws", rows[i].text, count_letters, seen, &e), 0);
        ck_assert_msg(seen[0] == rows[i].items, "%s: %zu", rows[i].text, seen[0]);
    }
}
END_TEST

/* A caller's number counts as given, with the row's own ± where it brings none; what cannot be said
 * leaves the row as it was. */
START_TEST(rows_are_filled_by_key)
{
    static const struct calc_entry entries[] = {
        {.key = "heat_input", .value = 0.8},
        {.key = "preheat", .value = 60, .error = 3},
        {.key = "thickness", .value = NAN},
        {.key = "joint", .word = "tee"},
    };
    static const struct calc_entry scarf = {.key = "joint", .word = "scarf"};
    struct calc_inputs in;

    calc_inputs_start(&in);
    for (size_t i = 0; i < sizeof entries / sizeof *entries; i++)
        calc_inputs_put(&in, &calc_cooling, &entries[i]);
    ck_assert(in.given[0] && in.given[1] && !in.given[2] && in.given[3]);
    ck_assert_double_eq(in.value[0], 0.8);
    ck_assert_double_eq(in.value[1], 60);
    ck_assert(isnan(in.value[2]));
    ck_assert_double_eq(in.value[3], 3); /* the fourth of plate, butt, corner and tee */
    ck_assert(!(in.error[0] > 0));       /* a heat input has none of its own */
    ck_assert_double_eq(in.error[1], 3);
    calc_inputs_put(&in, &calc_cooling, &scarf);
    ck_assert(!in.given[3]);
    calc_inputs_free(&in);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("calc/inputs");
    TCase *t = tcase_create("inputs");

    tcase_add_test(t, refusals_name_the_right_ones);
    tcase_add_test(t, too_little_is_refused_with_what_is_needed);
    tcase_add_test(t, lists_have_their_bounds);
    tcase_add_test(t, commas_beside_a_blank_divide);
    tcase_add_test(t, rows_are_filled_by_key);
    suite_add_tcase(s, t);
    return s;
}
