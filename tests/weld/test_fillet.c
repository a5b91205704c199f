/* Fillet: throat, area, mass. */
#include "run.h"

#include <math.h>

#include "weld/fillet.h"

#define IN 25.4
#define LB_PER_FT (0.45359237e6 / 304.8) /* g/m */

static struct fillet equal(double mm)
{
    return fillet_from_legs((struct mm){mm}, (struct mm){mm});
}

/* Filler metal handbook, "Calculating filler metal consumption", p. 8-1: 0.424 lb of weld metal per
 * foot of ½ in fillet at 0.283 lb/in³. */
START_TEST(half_inch_fillet)
{
    ck_assert_double_eq_tol(equal(0.5 * IN).mass.v / LB_PER_FT, 0.424, 1e-3);
    ck_assert_double_eq_tol(equal(0.5 * IN).mass.v / LB_PER_FT, 0.5 * 0.5 / 2 * 12 * 0.283, 1e-12);
}
END_TEST

/* The same handbook, table "Weight per foot of weld metal for fillet welds", triangle of 45°,
 * lb/ft. */
START_TEST(handbook_table_in_pounds)
{
    static const struct {
        double leg_in, lb_per_ft;
    } rows[] = {{1 / 8.0, 0.027},   {3 / 16.0, 0.060}, {1 / 4.0, 0.106},   {3 / 8.0, 0.239},
                {7 / 16.0, 0.325},  {1 / 2.0, 0.425},  {13 / 16.0, 1.121}, {7 / 8.0, 1.300},
                {15 / 16.0, 1.493}, {1, 1.698}};
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_double_eq_tol(equal(rows[i].leg_in * IN).mass.v / LB_PER_FT, rows[i].lb_per_ft,
                                0.001);
}
END_TEST

/* The same handbook, table "Weight per meter of weld metal", triangle of 45°, kg/m. */
START_TEST(handbook_table_in_kilograms)
{
    static const struct {
        double leg_mm, kg_per_m;
    } rows[] = {{3.175, 0.040}, {4.7625, 0.089},  {6.35, 0.158},  {7.9375, 0.247},
                {9.525, 0.356}, {11.1125, 0.484}, {12.70, 0.632}, {15.875, 0.988}};
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_double_eq_tol(equal(rows[i].leg_mm).mass.v / 1000, rows[i].kg_per_m, 0.001);
}
END_TEST

/* Iowa DOT, Materials I.M. 452.02 and Construction I.M. 569, "Weight of welds": 1.5 times the
 * theoretical weight with steel at 490 lb/ft³, to two decimals. */
START_TEST(highway_department_table)
{
    static const struct {
        double leg_in, lb_per_ft;
    } rows[] = {{1 / 4.0, 0.16}, {5 / 16.0, 0.25}, {3 / 8.0, 0.36},
                {1 / 2.0, 0.64}, {5 / 8.0, 1.00},  {3 / 4.0, 1.44}};
    double density = 490 / 1728.0 / 0.283;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_double_eq_tol(1.5 * density * equal(rows[i].leg_in * IN).mass.v / LB_PER_FT,
                                rows[i].lb_per_ft, 0.0055);
}
END_TEST

/* a = 0.7071·z (AWS A3.0, EN 1993-1-8 4.5.2); a 3-4-5 triangle by hand. */
START_TEST(throat)
{
    struct fillet f = fillet_from_legs((struct mm){6}, (struct mm){8});

    ck_assert_double_eq_tol(equal(1).throat.v, 0.7071, 5e-5);
    ck_assert_double_eq_tol(f.throat.v, 4.8, 1e-12);
    ck_assert_double_eq_tol(f.area.v, 24, 1e-12);
    ck_assert_double_eq_tol(fillet_from_throat((struct mm){5}).leg1.v, 7.0711, 5e-5);
    ck_assert_double_eq_tol(fillet_from_throat((struct mm){5}).throat.v, 5, 1e-12);
}
END_TEST

START_TEST(properties)
{
    double z;

    for (z = 1; z < 30; z++) {
        struct fillet f = fillet_from_legs((struct mm){z}, (struct mm){7});
        struct fillet turned = fillet_from_legs((struct mm){7}, (struct mm){z});

        ck_assert_double_eq(f.throat.v, turned.throat.v);
        ck_assert(f.throat.v < fmin(z, 7));
        ck_assert(f.throat.v < fillet_from_legs((struct mm){z + 1}, (struct mm){7}).throat.v);
        /* for the same metal, equal legs give most throat */
        ck_assert(f.throat.v <= equal(sqrt(7 * z)).throat.v * (1 + 1e-12));
    }
}
END_TEST

START_TEST(outside_the_range_it_says_so)
{
    ck_assert_ptr_nonnull(equal(0).outside);
    ck_assert_ptr_nonnull(fillet_from_legs((struct mm){5}, (struct mm){0}).outside);
    ck_assert_ptr_nonnull(fillet_from_legs((struct mm){0}, (struct mm){5}).outside);
    ck_assert_ptr_null(fillet_from_legs((struct mm){0.5}, (struct mm){0.5}).outside);
    ck_assert_ptr_nonnull(equal(-3).outside);
    ck_assert_ptr_nonnull(equal(NAN).outside);
    ck_assert(isnan(equal(0).throat.v));
}
END_TEST

START_TEST(one_leg_is_no_fillet)
{
    ck_assert_ptr_nonnull(fillet_from_legs((struct mm){0}, (struct mm){5}).outside);
    ck_assert_ptr_nonnull(fillet_from_legs((struct mm){5}, (struct mm){0}).outside);
    ck_assert_ptr_nonnull(fillet_from_legs((struct mm){INFINITY}, (struct mm){5}).outside);
    ck_assert_ptr_nonnull(fillet_from_legs((struct mm){5}, (struct mm){INFINITY}).outside);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/fillet");
    TCase *t = tcase_create("fillet");

    tcase_add_test(t, half_inch_fillet);
    tcase_add_test(t, handbook_table_in_pounds);
    tcase_add_test(t, handbook_table_in_kilograms);
    tcase_add_test(t, highway_department_table);
    tcase_add_test(t, throat);
    tcase_add_test(t, properties);
    tcase_add_test(t, outside_the_range_it_says_so);
    tcase_add_test(t, one_leg_is_no_fillet);
    suite_add_tcase(s, t);
    return s;
}
