/* How many coupons: against power.t.test of GNU R, and with a stop against its limits. */
#include "run.h"

#include <math.h>

#include "stats/compare/power.h"

static struct power_question asked(double difference)
{
    return (struct power_question){difference * 18, 18, 0.05, INFINITY, 60};
}

/* power.t.test(n, delta, sd = 1, strict = TRUE)$power of GNU R 4.2. */
START_TEST(power_is_that_of_r)
{
    static const struct {
        size_t n;
        double difference, power;
    } of_r[] = {{9, 1.5, 0.8476101042}, {4, 2.5, 0.8359504089}, {17, 1, 0.8070367151}};

    for (size_t i = 0; i < 3; i++) {
        struct power_question q = asked(of_r[i].difference);

        ck_assert_double_eq_tol(power_without_stop(&q, of_r[i].n), of_r[i].power, 1e-8);
        /* The simulation without a stop is the same test. */
        ck_assert_double_eq_tol(power_with_stop(&q, of_r[i].n, 1), of_r[i].power, 4 * 0.0064);
    }
}
END_TEST

/* power.t.test(delta, sd = 1, power = 0.8)$n: 16.71, 8.06, 5.09, 3.76, 3.07; with two a side the
 * power at 7 is 0.913; at 0.6 it is 44.59, and the steps are 42, 46. */
START_TEST(coupons_a_side)
{
    static const double difference[] = {1, 1.5, 2, 2.5, 3, 7, 0.6};
    static const size_t coupons[] = {17, 9, 6, 4, 4, 2, 46};

    for (size_t i = 0; i < 7; i++) {
        struct power_question q = asked(difference[i]);

        ck_assert_uint_eq(power_coupons(&q, 0.8, 1), coupons[i]);
    }
}
END_TEST

/* A stop hides part of the difference: more coupons, never fewer; one far off changes nothing; and
 * with no difference the alarms stay at the level accepted. */
START_TEST(a_stop_costs_coupons)
{
    struct power_question q = asked(2);
    double free = power_with_stop(&q, 6, 3);

    q.stop = 60 + 18 * 10;
    ck_assert_double_eq(power_with_stop(&q, 6, 3), free);
    q.stop = 60 + 18;
    ck_assert_double_lt(power_with_stop(&q, 6, 3), free);
    ck_assert_uint_ge(power_coupons(&q, 0.8, 3), 6);
    q.difference = 0;
    ck_assert_double_le(power_with_stop(&q, 8, 3), 0.05 + 4 * 0.0035);
}
END_TEST

/*
 * Worked by hand, with a scatter that is nothing beside the difference. All better coupons held:
 * of 3 a side the weaker score -5, -3, -1, the others 3 each; z = 9 / sqrt(9/30 · 62) = 2.087 has
 * the chance 0.0369. Of 2 a side, better ones that hold as often as not: none held (1 in 4), and
 * Student's test sees it; one held (1 in 2), scores -3, -1, 1, 3, z = 4 / sqrt(4/12 · 20) with the
 * chance 0.1213; both (1 in 4), -3, -1, 2, 2, z = 4 / sqrt(4/12 · 18) with the chance 0.1025.
 */
START_TEST(power_with_held_coupons_worked_by_hand)
{
    static const struct {
        size_t n;
        double above, level, power; /* above: mean of the better ones over the stop, degrees */
    } cases[] = {{3, 1, 0.037, 1},  {3, 1, 0.0368, 0},   {2, 1, 0.1026, 1},    {2, 1, 0.1024, 0},
                 {2, 0, 0.1214, 1}, {2, 0, 0.1212, 0.5}, {2, 0, 0.1024, 0.25}, {2, -1, 0.001, 1}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct power_question q = {40, 1e-3, cases[i].level, 100 - cases[i].above, 60};
        double error = sqrt(cases[i].power * (1 - cases[i].power) / POWER_TRIALS);

        ck_assert_double_eq_tol(power_with_stop(&q, cases[i].n, 5), cases[i].power,
                                1e-12 + 4 * error);
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/power");
    TCase *t = tcase_create("power");

    tcase_set_timeout(t, 60);
    tcase_add_test(t, power_is_that_of_r);
    tcase_add_test(t, coupons_a_side);
    tcase_add_test(t, a_stop_costs_coupons);
    tcase_add_test(t, power_with_held_coupons_worked_by_hand);
    suite_add_tcase(s, t);
    return s;
}
