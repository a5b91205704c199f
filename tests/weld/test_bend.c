/* Bend angle, elongation, springback. */
#include "run.h"

#include <math.h>
#include <string.h>

#include "weld/bendtest.h"

static double strain(double t, double r)
{
    return bend_outer_strain((struct mm){t}, (struct mm){r}).elongation.v;
}

static double former(double t, double d)
{
    return bend_outer_strain((struct mm){t}, (struct mm){d / 2}).elongation.v;
}

/* ISO 7438 6.3: the angle between one leg and the prolongation of the other, 180° − included. */
START_TEST(angle_from_included)
{
    ck_assert_double_eq(bend_from_included((struct degree){180}, (struct degree){45}).angle.v, 135);
    ck_assert_double_eq(bend_from_included((struct degree){90}, (struct degree){150}).angle.v, 60);
    ck_assert_double_eq(bend_from_included((struct degree){90}, (struct degree){30}).angle.v, 60);
    ck_assert(isnan(bend_from_included((struct degree){-1}, (struct degree){30}).angle.v));
    ck_assert_ptr_nonnull(bend_from_included((struct degree){90}, (struct degree){361}).outside);
    ck_assert_ptr_nonnull(bend_from_included((struct degree){361}, (struct degree){90}).outside);
    ck_assert_double_eq(bend_from_included((struct degree){360}, (struct degree){0}).angle.v, 360);
    ck_assert_double_eq(bend_from_included((struct degree){0}, (struct degree){360}).angle.v, 360);
}
END_TEST

/* Legs of one length and the gap between their tips make a triangle with equal sides: gap = leg is
 * 60°, gap = √2·leg is 90°, gap = 2·leg is flat. */
START_TEST(angle_from_gaps)
{
    struct mm leg = {50};

    ck_assert_double_eq_tol(bend_included_from_gap((struct mm){50 * sqrt(2)}, leg).v, 90, 1e-9);
    ck_assert_double_eq_tol(bend_included_from_gap((struct mm){50}, leg).v, 60, 1e-9);
    ck_assert_double_eq_tol(bend_included_from_gap((struct mm){100}, leg).v, 180, 1e-9);
    ck_assert_double_eq_tol(bend_included_from_gap((struct mm){0}, leg).v, 0, 1e-9);
    ck_assert(isnan(bend_included_from_gap((struct mm){101}, leg).v));
    ck_assert(isnan(bend_included_from_gap((struct mm){10}, (struct mm){0}).v));
    ck_assert(isnan(bend_included_from_gap((struct mm){-1}, leg).v));
    ck_assert(isnan(bend_included_from_gap((struct mm){NAN}, leg).v));
    ck_assert(isnan(bend_included_from_gap((struct mm){0}, (struct mm){0}).v));
}
END_TEST

/* ASME IX QW-466.1 note (b): former 4t gives 20 %; 6t 14.29 %, R = t 33.3 % [calc]. */
START_TEST(strain_from_former)
{
    ck_assert_double_eq_tol(former(6, 24), 20.00, 1e-12);
    ck_assert_double_eq_tol(former(6, 36), 14.29, 5e-3);
    ck_assert_double_eq_tol(strain(6, 6), 33.3, 0.05);
}
END_TEST

/* ASME IX 2010 p. 187, table QW-466.1: each class of material stands at a former A that gives its
 * elongation, 100·t/(A + t). All others with at least 20 %: A = 1½ in at t = ⅜ in (4t). Materials
 * from 3 %: A = 32⅞·t at most. The note's other form: t = A·e/(100 − e). */
START_TEST(strain_by_the_code_table)
{
    ck_assert_double_eq_tol(former(3 / 8.0, 1.5), 20.0, 1e-12);
    ck_assert_double_eq_tol(former(1, 32 + 7 / 8.0), 3.0, 0.06);
    ck_assert_double_eq_tol(former(1.5 * 20 / (100 - 20), 1.5), 20.0, 1e-12);
    /* the table's own pairs: 2 1/16 in at 1/8 in is 16½t, 2½ in at 3/8 in is 6⅔t */
    ck_assert_double_eq_tol(former(1 / 8.0, 2 + 1 / 16.0), former(1, 16.5), 1e-12);
    ck_assert_double_eq_tol(former(3 / 8.0, 2.5), former(1, 6 + 2 / 3.0), 1e-12);
}
END_TEST

/* Manufacturing textbook (Kalpakjian & Schmid, bending): e = 1/[(2R/t) + 1]. */
START_TEST(strain_by_the_textbook)
{
    double r;

    for (r = 2.5; r < 50; r += 2.5)
        ck_assert_double_eq_tol(strain(3, r), 100 / (2 * r / 3 + 1), 1e-12);
    ck_assert_ptr_nonnull(bend_outer_strain((struct mm){0}, (struct mm){5}).outside);
    ck_assert(isnan(strain(3, -1)));
    ck_assert(isnan(strain(3, 0))); /* a sharp fold: 100 % would be no elongation of anything */
    ck_assert_ptr_nonnull(bend_outer_strain((struct mm){3}, (struct mm){0}).outside);
    ck_assert(strain(3, 0.001) > 99);
}
END_TEST

/* US Army OD1651 lesson 1 task 2, NAVEDTRA 14250 chapter 7 by figure 7-62: 100·(Y − X)/X, at least
 * 15 % for a pass. */
START_TEST(free_bend)
{
    ck_assert_double_eq_tol(
        bend_free_elongation((struct mm){25.4}, (struct mm){25.4 * 1.15}).elongation.v, 15, 1e-9);
    ck_assert(isnan(bend_free_elongation((struct mm){3}, (struct mm){0}).elongation.v));
    ck_assert(isnan(bend_free_elongation((struct mm){0}, (struct mm){3}).elongation.v));
}
END_TEST

static double springback(double r, double t, double y, double e)
{
    return bend_springback((struct mm){r}, (struct mm){t}, (struct mpa){y}, (struct mpa){e}).ratio;
}

/* R 12, Y 250, t 6, E 205 000: 0.99268 [calc]. Sheet of 20 gauge (0.0359 in) bent to 0.5 in, yield
 * 40,000 psi, E 29·10⁶ psi: ratio 0.942 and 0.531 in after, worked example of Kalpakjian & Schmid
 * [mem]. */
START_TEST(springback_examples)
{
    double psi = 4.4482216152605 / 645.16;
    struct bend_springback s = bend_springback((struct mm){0.5 * 25.4}, (struct mm){0.0359 * 25.4},
                                               (struct mpa){40000 * psi}, (struct mpa){29e6 * psi});

    ck_assert_double_eq_tol(springback(12, 6, 250, 205000), 0.99268, 5e-6);
    ck_assert_double_eq_tol(s.ratio, 0.942, 5e-4);
    ck_assert_double_eq_tol(s.radius_after.v / 25.4, 0.531, 5e-4);
}
END_TEST

START_TEST(springback_properties)
{
    double r;

    for (r = 1; r < 1000; r *= 1.5)
        ck_assert(springback(r, 6, 250, 205000) > springback(1.5 * r, 6, 250, 205000));
    ck_assert_double_eq_tol(springback(1e-9, 6, 250, 205000), 1, 1e-9);
    ck_assert(isnan(springback(6 * 205000 / 500.0, 6, 250, 205000))); /* X = 1/2: elastic */
    ck_assert(isnan(springback(12, 0, 250, 205000)));
    ck_assert(isnan(springback(0, 6, 250, 205000)));
    ck_assert(isnan(springback(12, 6, 0, 205000)));
    ck_assert_ptr_nonnull(
        strstr(bend_springback((struct mm){12}, (struct mm){6}, (struct mpa){250}, (struct mpa){0})
                   .outside,
               "above 0"));
    /* the same case in inch and psi */
    ck_assert_double_eq_tol(springback(12, 6, 250, 205000),
                            springback(12 / 25.4, 6 / 25.4, 250 * 145.0, 205000 * 145.0), 1e-12);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/bend");
    TCase *t = tcase_create("bend");

    tcase_add_test(t, angle_from_included);
    tcase_add_test(t, angle_from_gaps);
    tcase_add_test(t, strain_from_former);
    tcase_add_test(t, strain_by_the_code_table);
    tcase_add_test(t, strain_by_the_textbook);
    tcase_add_test(t, free_bend);
    tcase_add_test(t, springback_examples);
    tcase_add_test(t, springback_properties);
    suite_add_tcase(s, t);
    return s;
}
