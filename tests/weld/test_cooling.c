/* Cooling time t8/5, EN 1011-2 Annex D. */
#include "run.h"

#include <math.h>
#include <string.h>

#include "weld/cooling.h"

static struct cooling cool(double q, double t0, double d, const char *joint)
{
    return cooling_time((struct kj_per_mm){q}, (struct celsius){t0}, (struct mm){d},
                        cooling_joint_find(joint));
}

/* The formulas as a steel maker's welding handbook prints them (formulas 3.1 and 3.2, p. 17);
 * figures [calc]. */
START_TEST(run_on_plate)
{
    struct cooling thick = cool(1.0, 20, 20, "plate"), thin = cool(0.5, 20, 6, "plate"),
                   warm = cool(0.5, 150, 6, "plate");

    ck_assert_double_eq_tol(thick.t85.v, 5.288, 5e-4);
    ck_assert(thick.thin.v < thick.thick.v);
    ck_assert_double_eq_tol(thin.t85.v, 7.891, 5e-4);
    ck_assert(thin.thin.v > thin.thick.v);
    ck_assert_double_eq_tol(thin.transition.v, 10.365, 5e-4);
    ck_assert_double_eq_tol(warm.t85.v, 14.712, 5e-4);
}
END_TEST

/* Rosenthal's thick plate (textbook heat flow): t = Q/(2πλ)·[1/(500−T₀) − 1/(800−T₀)]. With λ =
 * 0.025 W/(mm·K), usual for steel between 500 and 800 °C [mem], the standard's 6700 − 5·T₀ stands
 * for 1/(2πλ) in mm·K/kW. */
START_TEST(heat_conduction_textbook)
{
    double lambda = 0.025, t0 = 20, q = 1;
    double rosenthal = q * 1000 / (2 * M_PI * lambda) * (1 / (500 - t0) - 1 / (800 - t0));

    ck_assert_double_eq_tol(cool(q, t0, 100, "plate").thick.v, rosenthal, 0.05 * rosenthal);
}
END_TEST

/* At the transition both formulas give the same time. */
START_TEST(both_formulas_meet_at_the_transition)
{
    double q, t0;

    for (q = 0.3; q < 4; q += 0.4)
        for (t0 = 0; t0 < 300; t0 += 60) {
            struct cooling c = cool(q, t0, cool(q, t0, 10, "plate").transition.v, "plate");

            ck_assert_double_eq_tol(c.thick.v, c.thin.v, 1e-9 * c.thick.v);
        }
    ck_assert_double_eq_tol(cool(1, 20, cool(1, 20, 10, "tee").transition_joint.v, "tee").thick.v,
                            cool(1, 20, cool(1, 20, 10, "tee").transition_joint.v, "tee").thin.v,
                            1e-9);
}
END_TEST

/* Shape factors of Table D.1 [mem]. */
START_TEST(shape_factors)
{
    struct cooling plate = cool(0.5, 20, 6, "plate"), tee = cool(0.5, 20, 6, "tee");

    ck_assert_double_eq_tol(cool(2, 20, 60, "tee").t85.v, 0.67 * cool(2, 20, 60, "plate").t85.v,
                            1e-12);
    ck_assert_double_eq_tol(tee.low.v, 0.45 * plate.thin.v, 1e-9);
    ck_assert_double_eq_tol(tee.high.v, 0.67 * plate.thin.v, 1e-9);
    ck_assert(tee.low.v < tee.t85.v && tee.t85.v < tee.high.v);
    ck_assert_double_eq_tol(cool(0.5, 20, 6, "butt").t85.v, 0.9 * plate.t85.v, 1e-9);
    ck_assert_double_eq_tol(cool(0.5, 20, 6, "corner").high.v, 0.9 * plate.t85.v, 1e-9);
    ck_assert_ptr_null(cooling_joint_find("scarf"));
}
END_TEST

/* [common] Fillets lose heat three ways: a tee cools faster than a run on the same plate. */
START_TEST(a_tee_cools_faster)
{
    ck_assert(cool(0.8, 20, 8, "tee").t85.v < cool(0.8, 20, 8, "plate").t85.v);
}
END_TEST

START_TEST(monotone)
{
    double x;

    for (x = 1; x < 20; x++) {
        ck_assert(cool(0.1 * x + 0.1, 20, 6, "plate").t85.v > cool(0.1 * x, 20, 6, "plate").t85.v);
        ck_assert(cool(1, 10 * x + 10, 6, "plate").t85.v > cool(1, 10 * x, 6, "plate").t85.v);
        ck_assert(cool(0.9, 20, x + 1, "plate").t85.v <= cool(0.9, 20, x, "plate").t85.v);
    }
}
END_TEST

START_TEST(outside_the_range_it_says_so)
{
    static const struct {
        double q, t0, d;
        const char *says; /* NULL: inside */
    } rows[] = {
        {0.1, 20, 10, NULL},          {0.0999, 20, 10, "0.1 to 5"}, {5, 20, 10, NULL},
        {5.0001, 20, 10, "0.1 to 5"}, {1, 350, 10, NULL},           {1, 350.01, 10, "350"},
        {1, 499.99, 10, "350"},       {1, -273.15, 10, NULL},       {1, -273.16, 10, "colder"},
        {1, 20, 0, "thickness"},      {1, 20, 1e-3, "1000 s"},      {NAN, 20, 10, "0.1 to 5"},
        {1, NAN, 10, "350"},          {1, 20, NAN, "thickness"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct cooling c = cool(rows[i].q, rows[i].t0, rows[i].d, "plate");

        ck_assert_msg((c.outside == NULL) == (rows[i].says == NULL), "row %zu", i);
        ck_assert_msg(isnan(c.t85.v) == (rows[i].says != NULL), "row %zu", i);
        if (rows[i].says != NULL)
            ck_assert_msg(strstr(c.outside, rows[i].says) != NULL, "row %zu: %s", i, c.outside);
    }
}
END_TEST

/* 5 kJ/mm on 0.2 mm of plate would take 197 h (thin formula). With T₀ 20 and 1 kJ/mm the thin
 * formula gives 1000 s at d = √[4214·10⁵·(1/480² − 1/780²)/1000] = 1.0660 mm [calc]. */
START_TEST(no_time_beyond_the_bound)
{
    double d = sqrt(4214e5 * (1 / 480.0 / 480 - 1 / 780.0 / 780) / 1000);
    struct cooling absurd = cool(5, 20, 0.2, "plate"), within = cool(1, 20, d * 1.0001, "plate"),
                   beyond = cool(1, 20, d * 0.9999, "plate");

    ck_assert_double_eq_tol(d, 1.0660, 5e-5);
    ck_assert_double_eq_tol(within.t85.v, 999.8, 5e-3);
    ck_assert_ptr_null(within.outside);
    ck_assert(isnan(beyond.t85.v) && isnan(beyond.thick.v) && isnan(beyond.transition.v));
    ck_assert_ptr_nonnull(strstr(beyond.outside, "1000 s"));
    ck_assert_ptr_nonnull(absurd.outside);
    /* a tee of that plate loses heat faster: F2 0.56 */
    ck_assert_double_eq_tol(cool(1, 20, d, "tee").t85.v, 560, 1e-6);
}
END_TEST

/* A time of 1000 s itself is still said: heat inputs and plates a hair apart come upon it. */
START_TEST(the_bound_itself_is_within)
{
    double d = sqrt(4214e5 * (1 / 480.0 / 480 - 1 / 780.0 / 780) / 1000), most = 0;

    for (int i = -40; i <= 40; i++)
        for (int j = -40; j <= 40; j++) {
            double t = cool(1 + i * 0x1p-52, 20, d + j * 0x1p-52, "plate").t85.v;

            ck_assert(isnan(t) || t <= 1000);
            most = fmax(most, t);
        }
    ck_assert_double_eq(most, 1000);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/cooling");
    TCase *t = tcase_create("cooling");

    tcase_add_test(t, run_on_plate);
    tcase_add_test(t, heat_conduction_textbook);
    tcase_add_test(t, both_formulas_meet_at_the_transition);
    tcase_add_test(t, shape_factors);
    tcase_add_test(t, a_tee_cools_faster);
    tcase_add_test(t, monotone);
    tcase_add_test(t, outside_the_range_it_says_so);
    tcase_add_test(t, no_time_beyond_the_bound);
    tcase_add_test(t, the_bound_itself_is_within);
    suite_add_tcase(s, t);
    return s;
}
