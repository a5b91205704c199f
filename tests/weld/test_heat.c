/* Arc energy and heat input. */
#include "run.h"

#include <math.h>

#include "weld/heat.h"

#define IN 25.4

static double kj_per_in(struct kj_per_mm e)
{
    return e.v * IN;
}

static struct mm_per_s in_per_min(double v)
{
    return (struct mm_per_s){v * IN / 60};
}

static struct heat heat(double u, double i, struct mm_per_s v, double k)
{
    return heat_from_readings((struct volt){u}, (struct ampere){i}, v, k);
}

/* Exercise "Determine the heat input" (arc welding processes): 20 V, 300 A, 2.5 mm/s, 2.4 kJ/mm. */
START_TEST(exercise_in_metric)
{
    struct heat h = heat(20, 300, (struct mm_per_s){2.5}, 0.8);

    ck_assert_double_eq_tol(h.arc_energy.v, 2.400, 1e-12);
    ck_assert_double_eq_tol(h.heat_input.v, 1.920, 1e-12);
    ck_assert_ptr_null(h.outside);
}
END_TEST

/* Thread on the formula of AWS D1.5 p. 89: 30 V, 330 A, 24 in in 93 s. It rounds the speed to 15.4
 * in/min and prints 38.5 kJ/in; unrounded 38.36 [calc]. */
START_TEST(bridge_code_formula)
{
    struct mm_per_s v = heat_travel_speed((struct mm){24 * IN}, (struct seconds){93});
    struct heat h = heat(30, 330, v, NAN);

    ck_assert_double_eq_tol(v.v * 60 / IN, 15.4839, 1e-4);
    ck_assert_double_eq_tol(kj_per_in(h.arc_energy), 38.3625, 1e-9);
    ck_assert_double_eq_tol(kj_per_in(heat(30, 330, in_per_min(15.4), NAN).arc_energy), 38.5, 0.1);
    ck_assert(isnan(h.heat_input.v));
}
END_TEST

/* "How to calculate heat input from welding", example 1: 29 V, 325 A, 25 in in 2 min: 12.5
 * in/min, 45.24 kJ/in. */
START_TEST(article_example_in_inches)
{
    struct mm_per_s v = heat_travel_speed((struct mm){25 * IN}, (struct seconds){120});

    ck_assert_double_eq_tol(v.v * 60 / IN, 12.5, 1e-12);
    ck_assert_double_eq_tol(kj_per_in(heat(29, 325, v, NAN).arc_energy), 45.24, 0.005);
}
END_TEST

/* School text "Heat input formula", solved example 1: 39 V, 425 A, 35 in in 4 min: 8.75 in/min and
 * 113.65 kJ/in (cut off, not rounded). */
START_TEST(school_text_example)
{
    struct mm_per_s v = heat_travel_speed((struct mm){35 * IN}, (struct seconds){240});

    ck_assert_double_eq_tol(v.v * 60 / IN, 8.75, 1e-12);
    ck_assert_double_eq_tol(kj_per_in(heat(39, 425, v, NAN).arc_energy), 113.65, 0.01);
}
END_TEST

/* Study guide "Trades Math Basics: Heat Input Calculations": 24 V 120 A at 10 in/min 17,280 J/in; 6
 * in in 30 s is 12 in/min and gives 14,400 J/in; 26 V 130 A at 8 in/min 25,350 J/in. */
START_TEST(study_guide_examples)
{
    struct mm_per_s timed = heat_travel_speed((struct mm){6 * IN}, (struct seconds){30});

    ck_assert_double_eq_tol(kj_per_in(heat(24, 120, in_per_min(10), NAN).arc_energy), 17.280, 1e-9);
    ck_assert_double_eq_tol(kj_per_in(heat(24, 120, timed, NAN).arc_energy), 14.400, 1e-9);
    ck_assert_double_eq_tol(kj_per_in(heat(26, 130, in_per_min(8), NAN).arc_energy), 25.350, 1e-9);
}
END_TEST

/* [calc] 27 V, 222 A, 5 mm/s, k 0.8. */
START_TEST(arc_energy_is_not_heat_input)
{
    struct heat h = heat(27, 222, (struct mm_per_s){5}, 0.8);

    ck_assert_double_eq_tol(h.arc_energy.v, 1.1988, 1e-12);
    ck_assert_double_eq_tol(h.heat_input.v, 0.95904, 1e-12);
}
END_TEST

/* k by EN 1011-1 Table 1, as a welding institute's answer on arc energy and heat input prints it.
 */
START_TEST(k_by_process)
{
    static const struct {
        int iso4063;
        double k;
    } rows[] = {{121, 1.0}, {111, 0.8}, {114, 0.8}, {131, 0.8}, {135, 0.8},
                {136, 0.8}, {138, 0.8}, {141, 0.6}, {15, 0.6}};
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_double_eq(heat_process_find(rows[i].iso4063)->k, rows[i].k);
    ck_assert_ptr_null(heat_process_find(311)); /* gas welding has none */
    ck_assert_int_eq(heat_process_named("135 MAG solid wire")->iso4063, 135);
    ck_assert_int_eq(heat_process_named("GTAW")->iso4063, 141);
    ck_assert_ptr_null(heat_process_named("glue"));
    ck_assert_ptr_null(heat_process_named(NULL));
}
END_TEST

/* ISO/TR 18491, ASME IX QW-409.1(c) [mem]: energy over length and power over speed are the same as
 * U·I/v where volts and amps are steady. */
START_TEST(waveform_readings_agree_with_steady_ones)
{
    struct heat steady = heat(24, 200, (struct mm_per_s){4}, 0.8);
    struct heat energy = heat_from_energy((struct kilojoule){24 * 200 * 50 / 1000.0},
                                          (struct mm){200}, 0.8); /* 50 s at 4 mm/s */
    struct heat power = heat_from_power((struct kilowatt){4.8}, (struct mm_per_s){4}, 0.8);

    ck_assert_double_eq_tol(energy.arc_energy.v, steady.arc_energy.v, 1e-12);
    ck_assert_double_eq_tol(power.arc_energy.v, steady.arc_energy.v, 1e-12);
    ck_assert_double_eq_tol(power.heat_input.v, steady.heat_input.v, 1e-12);
}
END_TEST

START_TEST(outside_the_range_it_says_so)
{
    ck_assert_ptr_nonnull(heat(20, 300, (struct mm_per_s){0}, 0.8).outside);
    ck_assert(isnan(heat(20, -300, (struct mm_per_s){2}, 0.8).arc_energy.v));
    ck_assert_ptr_nonnull(heat(20, 300, (struct mm_per_s){2}, 1.2).outside);
    ck_assert(isnan(heat(20, 300, (struct mm_per_s){2}, 1.2).heat_input.v));
    ck_assert_double_eq_tol(heat(20, 300, (struct mm_per_s){2}, 1.2).arc_energy.v, 3, 1e-12);
    ck_assert(isnan(heat_travel_speed((struct mm){10}, (struct seconds){0}).v));
}
END_TEST

/* 1 kJ/in is 0.03937 kJ/mm, 1 in/min 0.42333 mm/s (NIST SP 811: 1 in = 25.4 mm exactly). */
START_TEST(inch_and_metric_agree)
{
    struct heat metric = heat(22.5, 187, (struct mm_per_s){11 * 0.42333333333333333}, 0.8);
    struct heat inch = heat(22.5, 187, in_per_min(11), 0.8);

    ck_assert_double_eq_tol(metric.arc_energy.v, inch.arc_energy.v, 1e-12);
    ck_assert_double_eq_tol(kj_per_in(inch.arc_energy), 0.06 * 22.5 * 187 / 11, 1e-12);
}
END_TEST

/* More volts, more amps or a slower gun never put less into the plate. */
START_TEST(monotone)
{
    double last = 0, step;

    for (step = 1; step < 40; step++) {
        double e = heat(step, 100 + step, (struct mm_per_s){50 / step}, 0.8).heat_input.v;

        ck_assert(e > last);
        last = e;
    }
}
END_TEST

START_TEST(zero_is_outside)
{
    ck_assert_ptr_nonnull(
        heat_from_readings((struct volt){0}, (struct ampere){100}, (struct mm_per_s){5}, 1)
            .outside);
    ck_assert_ptr_nonnull(
        heat_from_readings((struct volt){20}, (struct ampere){0}, (struct mm_per_s){5}, 1).outside);
    ck_assert_ptr_nonnull(
        heat_from_readings((struct volt){20}, (struct ampere){100}, (struct mm_per_s){0}, 1)
            .outside);
    ck_assert_ptr_nonnull(heat_from_energy((struct kilojoule){0}, (struct mm){50}, 1).outside);
    ck_assert_ptr_null(heat_from_energy((struct kilojoule){0.5}, (struct mm){0.5}, 1).outside);
    ck_assert_ptr_nonnull(heat_from_energy((struct kilojoule){5}, (struct mm){0}, 1).outside);
    ck_assert_ptr_nonnull(heat_from_power((struct kilowatt){0}, (struct mm_per_s){5}, 1).outside);
    ck_assert_ptr_nonnull(heat_from_power((struct kilowatt){5}, (struct mm_per_s){0}, 1).outside);
    ck_assert(isnan(heat_travel_speed((struct mm){0}, (struct seconds){5}).v));
    ck_assert_double_eq(heat_travel_speed((struct mm){0.5}, (struct seconds){0.25}).v, 2);
    ck_assert(isnan(heat_travel_speed((struct mm){5}, (struct seconds){0}).v));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/heat");
    TCase *t = tcase_create("heat");

    tcase_add_test(t, exercise_in_metric);
    tcase_add_test(t, bridge_code_formula);
    tcase_add_test(t, article_example_in_inches);
    tcase_add_test(t, school_text_example);
    tcase_add_test(t, study_guide_examples);
    tcase_add_test(t, arc_energy_is_not_heat_input);
    tcase_add_test(t, k_by_process);
    tcase_add_test(t, waveform_readings_agree_with_steady_ones);
    tcase_add_test(t, outside_the_range_it_says_so);
    tcase_add_test(t, inch_and_metric_agree);
    tcase_add_test(t, monotone);
    tcase_add_test(t, zero_is_outside);
    suite_add_tcase(s, t);
    return s;
}
