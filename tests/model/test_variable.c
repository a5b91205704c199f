#include "run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "model/variable.h"

static const struct variable *row(const char *key)
{
    for (size_t i = 0; i < variable_table_count; i++)
        if (strcmp(variable_table[i].key, key) == 0)
            return &variable_table[i];
    ck_abort_msg("no row %s", key);
    return NULL;
}

/* What the book must be able to say about a coupon. */
static const char *const needed[] = {
    "process",
    "machine",
    "machine_setting",
    "wire_class",
    "wire_diameter",
    "wire_lot",
    "gas",
    "gas_flow",
    "polarity",
    "base_metal",
    "thickness",
    "thickness_2",
    "joint",
    "position",
    "sides",
    "root_gap",
    "fit_up",
    "cleaning",
    "preheat",
    "interpass_limit",
    "passes",
    "travel_speed",
    "volts",
    "amps",
    "wire_feed_speed",
    "tip_to_work",
    "torch_angle",
    "travel_direction",
    "bead_start",
    "welder",
    "day",
    "bend_angle",
    "fused_share",
    "longest_unfused",
    "unfused_at_start",
    "peak_moment",
    "first_crack_angle",
    "arc_energy",
    "heat_input",
    "t85",
    "throat_ratio",
    "leg_ratio",
};

START_TEST(the_table_has_what_is_needed)
{
    for (size_t i = 0; i < sizeof needed / sizeof *needed; i++)
        ck_assert_ptr_nonnull(row(needed[i]));
    ck_assert_double_eq(row("bend_angle")->scale, 180);
    ck_assert_double_eq(row("fused_share")->scale, 100);
    ck_assert_int_eq(row("sides")->kind, VARIABLE_CATEGORY);
    ck_assert_str_eq(row("sides")->choices, "one|both");
    ck_assert_int_eq(row("passes")->dimension, DIM_COUNT);
}
END_TEST

/* The header is read line by line, so that none is left out. */
START_TEST(every_key_asked_for_by_name_is_in_the_table)
{
    FILE *in = fopen(KEY_HEADER, "r");
    char line[200], key[64];
    size_t found = 0;

    ck_assert_ptr_nonnull(in);
    while (fgets(line, sizeof line, in) != NULL)
        if (sscanf(line, "#define KEY_%*s \"%63[^\"]", key) == 1) {
            ck_assert_str_eq(row(key)->key, key);
            found++;
        }
    ck_assert_int_eq(fclose(in), 0);
    ck_assert_uint_gt(found, 20);
}
END_TEST

static const struct {
    const char *text;
    const char *means; /* NULL: none */
    size_t code;
} choices[] = {
    {"", NULL, 0},
    {"2", "2 short arc", 1},
    {"2 SHORT arc", "2 short arc", 1},
    {"2 short", NULL, 0},
    {"12", "12", 0},
    {"1", NULL, 0},
    {"135", "135 MAG solid wire", 3},
    {"13", NULL, 0},
    {"1350", NULL, 0},
    {"pulsed", "Pulsed", 0},
    {"pulse", NULL, 0},
};

START_TEST(a_choice_is_meant_by_its_words_or_its_number)
{
    struct variable v = {.choices = "2 short arc|12|135 MAG solid wire|Pulsed"};
    struct usual_choice choice = variable_choice(&v, choices[_i].text);

    if (choices[_i].means == NULL) {
        ck_assert_ptr_null(choice.text);
        return;
    }
    ck_assert_uint_eq(choice.length, strlen(choices[_i].means));
    ck_assert_mem_eq(choice.text, choices[_i].means, choice.length);
    ck_assert_uint_eq(choice.code, choices[_i].code);
    v.choices = NULL;
    ck_assert_ptr_null(variable_choice(&v, choices[_i].text).text);
}
END_TEST

static bool key_well_formed(const char *key)
{
    return key[0] >= 'a' && key[0] <= 'z' &&
           key[strspn(key, "abcdefghijklmnopqrstuvwxyz0123456789_")] == '\0';
}

START_TEST(every_row_is_sound)
{
    const struct variable *v = &variable_table[_i];

    ck_assert_msg(key_well_formed(v->key), "%s", v->key);
    ck_assert_msg(v->label[0] >= 'A' && v->label[0] <= 'Z', "%s", v->label);
    ck_assert_msg(strlen(v->help) > 10 && v->help[strlen(v->help) - 1] == '.', "%s", v->key);
    ck_assert_msg(text_width(v->help) <= 96, "%s: help of %d cells", v->key, text_width(v->help));
    if (v->kind == VARIABLE_NUMBER && v->group != GROUP_DERIVED)
        ck_assert_msg(v->can.low <= v->usual.low && v->usual.low < v->usual.high &&
                          v->usual.high <= v->can.high,
                      "%s: limits out of order", v->key);
    else
        ck_assert_msg(range_open(v->usual), "%s: usual limits of what is not entered", v->key);
    ck_assert(!v->own && v->unit == NULL);
    ck_assert_int_eq(v->role == ROLE_RESULT, v->group == GROUP_RESULT);
    ck_assert_int_eq(v->from[0] != NULL, v->group == GROUP_DERIVED);
    if (v->kind == VARIABLE_CATEGORY)
        ck_assert(v->role == ROLE_CAUSE && (v->choices != NULL || !v->choices_only));
    else
        ck_assert_ptr_null(v->choices);
    for (size_t i = 0; i < (size_t)_i; i++) {
        ck_assert_str_ne(variable_table[i].key, v->key);
        ck_assert_str_ne(variable_table[i].label, v->label);
    }
}
END_TEST

START_TEST(computed_rows_name_rows_that_exist)
{
    for (size_t i = 0; i < variable_table_count; i++) {
        const struct variable *v = &variable_table[i];

        for (size_t j = 0; v->from[j] != NULL; j++)
            ck_assert_int_ne(row(v->from[j])->group, GROUP_DERIVED);
    }
}
END_TEST

START_TEST(found_by_key_or_label_in_any_spelling)
{
    struct variable_list list;

    variable_list_init(&list);
    ck_assert_uint_eq(list.count, variable_table_count);
    ck_assert_str_eq(variable_find(&list, "wire_diameter")->key, "wire_diameter");
    ck_assert_str_eq(variable_find(&list, "Wire Diameter")->key, "wire_diameter");
    ck_assert_str_eq(variable_find(&list, "wire-diameter")->key, "wire_diameter");
    ck_assert_str_eq(variable_find(&list, "PUSH OR DRAG")->key, "travel_direction");
    ck_assert_ptr_null(variable_find(&list, "wire"));
    ck_assert_ptr_null(variable_find(&list, ""));
    variable_list_free(&list);
}
END_TEST

START_TEST(own_rows_are_copied_and_guarded)
{
    struct variable_list list;
    struct error e = {0};
    char key[] = "paint_left", label[] = "Paint left on";
    struct variable own = {.key = key,
                           .label = label,
                           .group = GROUP_OTHER,
                           .kind = VARIABLE_CATEGORY,
                           .choices = "yes|no",
                           .can = {-INFINITY, INFINITY},
                           .usual = {-INFINITY, INFINITY}};

    variable_list_init(&list);
    ck_assert_int_eq(variable_add(&list, &own, &e), 0);
    key[0] = label[0] = 'X';
    ck_assert_ptr_nonnull(variable_find(&list, "paint left on"));
    ck_assert(variable_find(&list, "paint_left")->own);
    own.key = "paint_left";
    own.label = NULL;
    ck_assert_int_lt(variable_add(&list, &own, &e), 0);
    ck_assert_str_eq(e.text, "there is a variable 'paint_left' already; choose another name");
    own.key = "second";
    own.label = "VOLTS";
    ck_assert_int_lt(variable_add(&list, &own, &e), 0);
    own.label = NULL;
    own.key = "Bad Key";
    ck_assert_int_lt(variable_add(&list, &own, &e), 0);
    own.key = "1st";
    ck_assert_int_lt(variable_add(&list, &own, &e), 0);
    own.key = "mark";
    ck_assert_int_lt(variable_add(&list, &own, &e), 0);
    ck_assert_uint_eq(list.count, variable_table_count + 1);
    variable_list_free(&list);
    ck_assert_uint_eq(list.count, 0);
}
END_TEST

static const struct {
    const char *name, *key; /* NULL: none */
} made[] = {
    {"Paint left on", "paint_left_on"},
    {"  Hammer--blows! ", "hammer_blows"},
    {"2nd wire", "v_2nd_wire"},
    {"Höhe", "h_he"},
    {"厚さ", NULL},
    {"", NULL},
    {"___", NULL},
    {"A", "a"},
};

START_TEST(keys_from_names)
{
    char key[64];

    for (size_t i = 0; i < sizeof made / sizeof *made; i++) {
        ck_assert_int_eq(variable_key_from_name(made[i].name, key, sizeof key),
                         made[i].key != NULL);
        if (made[i].key != NULL)
            ck_assert_str_eq(key, made[i].key);
    }
    ck_assert(variable_key_from_name("a name far longer than fits", key, 8));
    ck_assert_str_eq(key, "a_name");
    ck_assert(variable_key_from_name("a namesake", key, 8));
    ck_assert_str_eq(key, "a_names");
    ck_assert(variable_key_from_name("2nd", key, 4));
    ck_assert_str_eq(key, "v_2");
    ck_assert(!variable_key_from_name("2nd", key, 3));
    for (size_t size = 0; size < 4; size++)
        ck_assert(!variable_key_from_name("abc", key, size) || strlen(key) < size);
}
END_TEST

static const struct {
    const char *key;
    double value;
    enum unit_system system;
    enum value_verdict verdict;
    const char *why;
} judged[] = {
    {"volts", 17.5, UNITS_METRIC, VALUE_USUAL, ""},
    {"volts", 40, UNITS_METRIC, VALUE_UNUSUAL, "Volts: 40 V is unusual, mostly it is 13 V to 36 V"},
    {"volts", 400, UNITS_METRIC, VALUE_IMPOSSIBLE,
     "Volts: 400 V cannot be, it must be 5 V to 60 V, mostly 13 V to 36 V"},
    {"thickness", -3, UNITS_METRIC, VALUE_IMPOSSIBLE,
     "Thickness: -3 mm cannot be, it must be 0.2 mm to 300 mm, mostly 1 mm to 25 mm"},
    {"wire_diameter", .045, UNITS_METRIC, VALUE_IMPOSSIBLE,
     "Wire diameter: 0.045 mm cannot be, it must be 0.3 mm to 10 mm, mostly 0.6 mm to 4.8 mm"},
    {"wire_diameter", 0.9 * 25.4, UNITS_INCH, VALUE_IMPOSSIBLE,
     "Wire diameter: 0.9 in cannot be, it must be 0.012 in to 0.394 in, mostly 0.024 in to 0.189 "
     "in"},
    {"preheat", 500, UNITS_METRIC, VALUE_UNUSUAL,
     "Preheat: 500 °C is unusual, mostly it is -10 °C to 300 °C"},
    {"arc_energy", 0.8, UNITS_METRIC, VALUE_USUAL, ""},
    {"arc_energy", -1, UNITS_METRIC, VALUE_IMPOSSIBLE,
     "Arc energy: -1 kJ/mm cannot be, it must be at least 0 kJ/mm"},
    {"bend_angle", 181, UNITS_METRIC, VALUE_UNUSUAL,
     "Bend angle: 181° is unusual, mostly it is 0° to 180°"},
    {"bend_angle", 271, UNITS_METRIC, VALUE_IMPOSSIBLE,
     "Bend angle: 271° cannot be, it must be 0° to 270°, mostly 0° to 180°"},
    {"amps", NAN, UNITS_METRIC, VALUE_IMPOSSIBLE, NULL},
};

START_TEST(numbers_are_judged)
{
    char why[512];

    ck_assert_int_eq(
        variable_judge(row(judged[_i].key), judged[_i].value, judged[_i].system, why, sizeof why),
        judged[_i].verdict);
    if (judged[_i].why != NULL)
        ck_assert_str_eq(why, judged[_i].why);
}
END_TEST

/* What cannot be, and what a shop welding 1 to 25 mm steel by hand mostly has, in base units. */
static const struct {
    const char *key;
    struct range can, usual;
} limits[] = {
    {"wire_diameter", {0.3, 10}, {0.6, 4.8}},
    {"gas_flow", {0, 60}, {8, 25}},
    {"thickness", {0.2, 300}, {1, 25}},
    {"thickness_2", {0.2, 300}, {1, 25}},
    {"root_gap", {0, 25}, {0, 4}},
    {"leg", {0.5, 50}, {2, 15}},
    {"leg_2", {0.5, 50}, {2, 15}},
    {"preheat", {-50, 700}, {-10, 300}},
    {"interpass_limit", {0, 700}, {20, 350}},
    {"passes", {1, 100}, {1, 12}},
    {"travel_speed", {5, 3000}, {80, 900}},
    {"volts", {5, 60}, {13, 36}},
    {"amps", {5, 1000}, {30, 400}},
    {"wire_feed_speed", {300, 30000}, {1000, 18000}},
    {"tip_to_work", {1, 60}, {6, 30}},
    {"torch_angle", {0, 90}, {0, 45}},
    {"bend_angle", {0, 270}, {0, 180}},
    {"fused_share", {0, 100}, {0, 100}},
    {"longest_unfused", {0, 2000}, {0, 300}},
    {"unfused_at_start", {0, 2000}, {0, 100}},
    {"peak_moment", {0, 100000}, {1, 5000}},
    {"first_crack_angle", {0, 270}, {0, 180}},
    {"arc_energy", {0, INFINITY}, {0, 0}},
    {"heat_input", {0, INFINITY}, {0, 0}},
    {"t85", {0, INFINITY}, {0, 0}},
    {"throat_ratio", {0, INFINITY}, {0, 0}},
    {"leg_ratio", {0, INFINITY}, {0, 0}},
};

static enum value_verdict verdict(const struct variable *v, double value)
{
    char why[512];

    return variable_judge(v, value, UNITS_METRIC, why, sizeof why);
}

/* An end belongs to the range; the next number beyond it does not. */
static void check_end(const struct variable *v, double end, double beyond, double can_end)
{
    if (isinf(end))
        return;
    ck_assert_msg(verdict(v, end) == VALUE_USUAL, "%s: %g", v->key, end);
    ck_assert_msg(verdict(v, nextafter(end, beyond)) ==
                      (end == can_end ? VALUE_IMPOSSIBLE : VALUE_UNUSUAL),
                  "%s: beyond %g", v->key, end);
    if (isfinite(can_end)) {
        ck_assert_msg(verdict(v, can_end) == (end == can_end ? VALUE_USUAL : VALUE_UNUSUAL),
                      "%s: %g", v->key, can_end);
        ck_assert_msg(verdict(v, nextafter(can_end, beyond)) == VALUE_IMPOSSIBLE, "%s: beyond %g",
                      v->key, can_end);
    }
}

START_TEST(limits_hold_up_to_their_ends)
{
    const struct variable *v = row(limits[_i].key);
    struct range usual = range_open(limits[_i].usual) ? limits[_i].can : limits[_i].usual;

    check_end(v, usual.low, -INFINITY, limits[_i].can.low);
    check_end(v, usual.high, INFINITY, limits[_i].can.high);
}
END_TEST

START_TEST(every_number_has_limits)
{
    size_t numbers = 0;

    for (size_t i = 0; i < variable_table_count; i++)
        numbers += variable_table[i].kind == VARIABLE_NUMBER;
    ck_assert_uint_eq(numbers, sizeof limits / sizeof *limits);
}
END_TEST

START_TEST(the_other_system_is_offered_where_it_fits)
{
    /* of the user's own, with limits but without a unit of this program */
    static const struct variable bare = {
        .key = "blows", .kind = VARIABLE_NUMBER, .dimension = DIM_NUMBER, .usual = {1, 5}};
    char out[96];

    variable_other_reading(row("wire_diameter"), .045, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "; if you mean in, write 0.045 in");
    variable_other_reading(row("wire_diameter"), .9 * 25.4, UNITS_INCH, out, sizeof out);
    ck_assert_str_eq(out, "; if you mean mm, write 0.9 mm");
    variable_other_reading(row("preheat"), 400, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "; if you mean °F, write 400 °F");
    variable_other_reading(row("wire_diameter"), 900, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "");
    variable_other_reading(row("thickness"), 3, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "");
    variable_other_reading(row("volts"), 90, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "");
    /* usual as it stands, and usual in °F as well */
    variable_other_reading(row("preheat"), 100, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "");
    variable_other_reading(&bare, 9, UNITS_METRIC, out, sizeof out);
    ck_assert_str_eq(out, "");
}
END_TEST

START_TEST(units_shown)
{
    struct variable own = {.kind = VARIABLE_NUMBER, .unit = "HV"};

    ck_assert_ptr_null(variable_find_result(&(struct variable_list){0}, "nothing (mm)"));
    ck_assert_str_eq(variable_unit(row("thickness"), UNITS_METRIC), "mm");
    ck_assert_str_eq(variable_unit(row("thickness"), UNITS_INCH), "in");
    ck_assert_str_eq(variable_unit(row("passes"), UNITS_INCH), "");
    ck_assert_str_eq(variable_unit(row("gas"), UNITS_INCH), "");
    ck_assert_str_eq(variable_unit(&own, UNITS_METRIC), "HV");
    for (enum variable_group g = 0; g < VARIABLE_GROUPS; g++)
        ck_assert_uint_gt(strlen(variable_group_name(g)), 2);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/variable");
    TCase *t = tcase_create("variable");

    tcase_add_test(t, the_table_has_what_is_needed);
    tcase_add_loop_test(t, a_choice_is_meant_by_its_words_or_its_number, 0,
                        sizeof choices / sizeof *choices);
    tcase_add_test(t, every_key_asked_for_by_name_is_in_the_table);
    tcase_add_loop_test(t, every_row_is_sound, 0, (int)variable_table_count);
    tcase_add_test(t, computed_rows_name_rows_that_exist);
    tcase_add_test(t, found_by_key_or_label_in_any_spelling);
    tcase_add_test(t, own_rows_are_copied_and_guarded);
    tcase_add_test(t, keys_from_names);
    tcase_add_loop_test(t, numbers_are_judged, 0, sizeof judged / sizeof *judged);
    tcase_add_loop_test(t, limits_hold_up_to_their_ends, 0, sizeof limits / sizeof *limits);
    tcase_add_test(t, every_number_has_limits);
    tcase_add_test(t, the_other_system_is_offered_where_it_fits);
    tcase_add_test(t, units_shown);
    suite_add_tcase(s, t);
    return s;
}
