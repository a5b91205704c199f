#include "run.h"

#include <math.h>

#include "analysis/trial_frame.h"
#include "base/mem.h"

static struct session s;
static struct coupon_list coupons;
static struct frame f;

static struct coupon *add(const char *mark, double thickness, const char *sides, double angle)
{
    struct coupon *c = coupon_list_add(&coupons);

    c->mark = mem_copy(mark);
    coupon_set_number(c, "thickness", measure_exact(thickness), NULL);
    coupon_set_category(c, "sides", sides);
    coupon_set_number(c, "bend_angle", measure_exact(angle), NULL);
    return c;
}

static int make(const char *with, const char *without)
{
    struct frame_request r = {variable_find(&s.variables, "bend_angle"), &with, with != NULL,
                              &without, without != NULL};

    return trial_frame(&s, &coupons, &r, &f, NULL);
}

static void setup(void)
{
    variable_list_init(&s.variables);
    add("01", 3, "one", 40);
    add("02", 5, "both", 135);
}

static void teardown(void)
{
    coupon_list_free(&coupons);
    variable_list_free(&s.variables);
}

START_TEST(columns_are_the_causes_that_were_recorded)
{
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_uint_eq(f.n, 2);
    ck_assert_uint_eq(f.k, 2);
    ck_assert_str_eq(f.columns[0].key, "thickness");
    ck_assert_str_eq(f.columns[1].key, "sides");
    ck_assert_double_eq(f.columns[0].x[1], 5);
    ck_assert_str_eq(f.columns[1].levels[0], "both");
    ck_assert_double_eq(f.range, 180);
    frame_free(&f);
}
END_TEST

START_TEST(units_change_what_is_shown_never_the_numbers)
{
    s.units = UNITS_INCH;
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_double_eq(f.columns[0].x[0], 3);
    ck_assert_str_eq(frame_unit(&f.columns[0]), "in");
    ck_assert_str_eq(frame_unit(&f.columns[1]), "");
    ck_assert_str_eq(frame_result_unit(&f), "°");
    ck_assert_double_eq(f.range, 180);
    s.units = UNITS_METRIC;
    trial_frame_units(&s, &f);
    ck_assert_double_eq(f.columns[0].x[0], 3);
    ck_assert_str_eq(frame_unit(&f.columns[0]), "mm");
    frame_free(&f);
}
END_TEST

START_TEST(a_derived_variable_takes_the_place_of_what_it_comes_from)
{
    for (size_t i = 0; i < 2; i++) {
        coupon_set_number(&coupons.items[i], "volts", measure_exact(18), NULL);
        coupon_set_number(&coupons.items[i], "amps", measure_exact(120), NULL);
        coupon_set_number(&coupons.items[i], "travel_speed", measure_exact(300), NULL);
    }
    ck_assert_int_eq(make("arc_energy", NULL), 0);
    ck_assert_uint_eq(f.k, 3);
    ck_assert_str_eq(f.columns[2].key, "arc_energy");
    /* 18 V · 120 A / 5 mm/s · 10⁻³ */
    ck_assert_double_eq_tol(f.columns[2].x[0], 0.432, 1e-12);
    frame_free(&f);
}
END_TEST

START_TEST(a_variable_can_be_left_out_and_must_exist)
{
    ck_assert_int_eq(make(NULL, "sides"), 0);
    ck_assert_uint_eq(f.k, 1);
    frame_free(&f);
    ck_assert_int_lt(make(NULL, "colour_of_the_gate"), 0);
    ck_assert_int_lt(make(NULL, "bend_angle"), 0);
}
END_TEST

START_TEST(all_names_of_a_request_are_looked_at)
{
    const char *const without[] = {"sides", "thickness"}, *const bad[] = {"sides", "nothing"};
    struct frame_request r = {.result = variable_find(&s.variables, "bend_angle"),
                              .without = without,
                              .without_count = 2};
    struct error e = {0};

    coupon_set_number(&coupons.items[0], "preheat", measure_exact(20), NULL);
    ck_assert_int_eq(trial_frame(&s, &coupons, &r, &f, NULL), 0);
    ck_assert_uint_eq(f.k, 1);
    ck_assert_str_eq(f.columns[0].key, "preheat");
    frame_free(&f);
    r.without = bad;
    ck_assert_int_lt(trial_frame(&s, &coupons, &r, &f, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_str_eq(e.text,
                     "'nothing' is no cause in the variable table; 'coldlap variable' lists them");
    r = (struct frame_request){.result = r.result, .with = bad, .with_count = 2};
    ck_assert_int_lt(trial_frame(&s, &coupons, &r, &f, NULL), 0);
    ck_assert_int_lt(make("bend_angle", NULL), 0);
}
END_TEST

/* A derived variable that was not asked for has no column; what it comes from has. */
START_TEST(a_derived_variable_comes_only_when_asked_for)
{
    coupon_set_number(&coupons.items[0], "arc_energy", measure_exact(0.5), NULL);
    coupon_set_number(&coupons.items[0], "volts", measure_exact(18), NULL);
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_uint_eq(f.k, 3);
    for (size_t j = 0; j < f.k; j++)
        ck_assert_str_ne(f.columns[j].key, "arc_energy");
    frame_free(&f);
}
END_TEST

START_TEST(the_day_counts_when_asked_for_or_written_down)
{
    ck_assert(clock_parse("2026-03-07T14:05:00+01:00", &coupons.items[0].when));
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_uint_eq(f.k, 2);
    frame_free(&f);
    ck_assert_int_eq(make("day", NULL), 0);
    ck_assert_uint_eq(f.k, 3);
    ck_assert_str_eq(f.columns[2].key, "day");
    ck_assert_uint_eq(f.columns[2].level_count, 1);
    ck_assert_str_eq(f.columns[2].levels[0], "2026-03-07");
    ck_assert_double_eq(f.columns[2].x[0], 0);
    ck_assert(isnan(f.columns[2].x[1])); /* never dated */
    frame_free(&f);
    coupon_set_category(&coupons.items[1], "day", "Monday");
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_uint_eq(f.k, 3);
    ck_assert_uint_eq(f.columns[2].level_count, 2);
    ck_assert_str_eq(f.columns[2].levels[(size_t)f.columns[2].x[1]], "Monday");
    frame_free(&f);
}
END_TEST

/* One's own variable: numbers stay numbers, and become words where any coupon has a word. */
START_TEST(words_anywhere_make_ones_own_variable_a_category)
{
    struct variable own = {
        .key = "polish", .label = "Polish", .kind = VARIABLE_CATEGORY, .role = ROLE_CAUSE};

    ck_assert_int_ge(variable_add(&s.variables, &own, NULL), 0);
    coupon_set_number(&coupons.items[0], "polish", measure_exact(2), NULL);
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_uint_eq(f.k, 3);
    ck_assert(!f.columns[2].category);
    ck_assert_double_eq(f.columns[2].x[0], 2);
    ck_assert(isnan(f.columns[2].x[1]));
    frame_free(&f);
    coupon_set_category(&coupons.items[1], "polish", "fine");
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert(f.columns[2].category);
    ck_assert_uint_eq(f.columns[2].level_count, 2);
    ck_assert_str_eq(f.columns[2].levels[(size_t)f.columns[2].x[0]], "2");
    ck_assert_str_eq(f.columns[2].levels[(size_t)f.columns[2].x[1]], "fine");
    frame_free(&f);
}
END_TEST

/* An angle has the scale of the table, a percentage 100, a length none. */
START_TEST(the_range_is_that_of_the_result)
{
    struct variable share = {.key = "filled",
                             .label = "Filled",
                             .kind = VARIABLE_NUMBER,
                             .role = ROLE_RESULT,
                             .unit = "%"};
    struct variable force = {
        .key = "pull", .label = "Pull", .kind = VARIABLE_NUMBER, .role = ROLE_RESULT, .unit = "kN"};
    struct frame_request r = {0};

    ck_assert_int_ge(variable_add(&s.variables, &share, NULL), 0);
    ck_assert_int_ge(variable_add(&s.variables, &force, NULL), 0);
    r.result = variable_find(&s.variables, "filled");
    ck_assert_int_eq(trial_frame(&s, &coupons, &r, &f, NULL), 0);
    ck_assert_double_eq(f.range, 100);
    ck_assert_str_eq(f.result_unit, "%");
    frame_free(&f);
    r.result = variable_find(&s.variables, "pull");
    ck_assert_int_eq(trial_frame(&s, &coupons, &r, &f, NULL), 0);
    ck_assert_double_eq(f.range, 0);
    ck_assert_str_eq(f.result_unit, "kN");
    frame_free(&f);
    r.result = variable_find(&s.variables, "longest_unfused");
    ck_assert_int_eq(trial_frame(&s, &coupons, &r, &f, NULL), 0);
    ck_assert_double_eq(f.range, 0);
    ck_assert_str_eq(f.result_unit, "");
    frame_free(&f);
}
END_TEST

START_TEST(a_missing_value_stays_missing)
{
    coupon_unset(&coupons.items[1], "thickness");
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert(isnan(f.columns[0].x[1]));
    frame_free(&f);
}
END_TEST

START_TEST(the_name_on_the_coupon_serves_as_welder)
{
    coupons.items[0].who = mem_copy("first bench");
    coupons.items[1].who = mem_copy("second bench");
    ck_assert_int_eq(make(NULL, NULL), 0);
    ck_assert_str_eq(f.columns[f.k - 1].key, "welder");
    frame_free(&f);
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("analysis/trial_frame");
    TCase *t = tcase_create("trial_frame");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, columns_are_the_causes_that_were_recorded);
    tcase_add_test(t, units_change_what_is_shown_never_the_numbers);
    tcase_add_test(t, a_derived_variable_takes_the_place_of_what_it_comes_from);
    tcase_add_test(t, a_variable_can_be_left_out_and_must_exist);
    tcase_add_test(t, all_names_of_a_request_are_looked_at);
    tcase_add_test(t, a_derived_variable_comes_only_when_asked_for);
    tcase_add_test(t, the_day_counts_when_asked_for_or_written_down);
    tcase_add_test(t, words_anywhere_make_ones_own_variable_a_category);
    tcase_add_test(t, the_range_is_that_of_the_result);
    tcase_add_test(t, a_missing_value_stays_missing);
    tcase_add_test(t, the_name_on_the_coupon_serves_as_welder);
    suite_add_tcase(su, t);
    return su;
}
