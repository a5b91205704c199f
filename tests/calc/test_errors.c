/* The ± of figures, from the ± of readings: given, usual, or none. */
#include "run.h"

#include <math.h>

#include "line.h"

/* A figure no reading moves is shown without a ±. */
START_TEST(no_error_is_not_shown)
{
    struct calc_answer a;
    struct error e;

    ck_assert_int_eq(run("bend|after=30", UNITS_METRIC, &a, &e), 0);
    ck_assert_str_eq(calc_figure_find(&a, "included_before_deg")->shown, "180°");
    ck_assert_str_eq(calc_figure_find(&a, "bend_angle_deg")->shown, "150.0 ± 1.0°");
    calc_answer_free(&a);
}
END_TEST

/* ±: √[(0.5/20)² + 0.02²] of the arc energy by default; the user's own; none. */
START_TEST(reading_errors_are_carried)
{
    static const struct {
        const char *line;
        double share;
    } rows[] = {
        {"heat|volts=20|amps=300|speed=150", 0.032016},
        {"heat|volts=20±1|amps=300+-3%|speed=150", 0.058310},
        {"heat|volts=20 ± 1 V|amps=300+/-9A|speed=150±15", 0.115758},
        {"heat|volts=20±0|amps=300±0|speed=150±10%", 0.1},
    };
    /* the stopwatch of a run of wire, whose 6 s were not even said */
    static const char timed[] = "wire|run_out=900";
    struct calc_answer a;
    struct error e;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct calc_figure *f;

        ck_assert_msg(run(rows[i].line, UNITS_METRIC, &a, &e) == 0, "%s", e.text);
        f = calc_figure_find(&a, "arc_energy_kj_per_mm");
        ck_assert_double_eq_tol(f->error / f->value, rows[i].share, 0.012 * rows[i].share);
        calc_answer_free(&a);
    }
    ck_assert_int_eq(run(timed, UNITS_METRIC, &a, &e), 0);
    ck_assert_double_eq_tol(calc_figure_find(&a, "feed_m_per_min")->error,
                            9 * hypot(0.5 / 900, 0.2 / 6), 1e-3);
    calc_answer_free(&a);
    ck_assert_int_eq(run("heat|volts=20±0|amps=300±0|speed=150", UNITS_METRIC, &a, &e), 0);
    ck_assert(isnan(calc_figure_find(&a, "arc_energy_kj_per_mm")->error));
    ck_assert_str_eq(a.inputs[0].key, "volts");
    ck_assert(isnan(a.inputs[0].error));
    calc_answer_free(&a);
}
END_TEST

/* The ± of a share is a share where the share was one, else %. */
START_TEST(errors_of_shares)
{
    static const struct {
        const char *line;
        double error;
    } rows[] = {
        {"wire|diameter=1.2|feed=5|efficiency=0.95±0.02", 2},
        {"wire|diameter=1.2|feed=5|efficiency=95%±2", 2},
        {"wire|diameter=1.2|feed=5|efficiency=95±2%", 2},
        {"wire|diameter=1.2|feed=5|efficiency=0.95±1%", 1},
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct calc_answer a;
        struct error e;

        ck_assert_msg(run(rows[i].line, UNITS_METRIC, &a, &e) == 0, "%s", e.text);
        ck_assert_double_eq_tol(calc_figure_find(&a, "efficiency_pct")->error, rows[i].error, 1e-9);
        calc_answer_free(&a);
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("calc/errors");
    TCase *t = tcase_create("errors");

    tcase_add_test(t, no_error_is_not_shown);
    tcase_add_test(t, reading_errors_are_carried);
    tcase_add_test(t, errors_of_shares);
    suite_add_tcase(s, t);
    return s;
}
