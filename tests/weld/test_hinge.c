/* Where a tee coupon folds. The formulas are textbook plasticity; figures marked [calc] are worked
 * out from them by hand. */
#include "run.h"

#include <math.h>
#include <string.h>

#include "weld/hinge.h"

static struct hinge_joint joint(double t, double leg, double u, int sides,
                                enum hinge_opening opening)
{
    return (struct hinge_joint){{t}, {leg / sqrt(2)}, {u}, {250}, {480}, sides, opening};
}

static double ratio(double t, double leg, double u, int sides, enum hinge_opening opening)
{
    struct hinge_joint j = joint(t, leg, u, sides, opening);

    return hinge_check(&j).weld_to_plate;
}

/* fy 250, fw 480 [calc]. */
START_TEST(four_shapes)
{
    ck_assert_double_eq_tol(ratio(6, 6, 0, 1, HINGE_ROOT), 0.960, 1e-9);
    ck_assert_double_eq_tol(ratio(6, 4, 0, 1, HINGE_ROOT), 0.427, 5e-4);
    ck_assert_double_eq_tol(ratio(6, 6, 0, 2, HINGE_ROOT), 5.76, 1e-9);
    ck_assert_double_eq_tol(ratio(6, 6, 0, 1, HINGE_FACE), 4.80, 1e-9);
}
END_TEST

/* z 6, unfused root 0.5, 1, 2 mm leaves 78, 58, 28 % of the sound weld [calc]. */
START_TEST(unfused_root_counts_squared)
{
    static const double rows[][2] = {{0.5, 0.78}, {1, 0.58}, {2, 0.28}};
    size_t i;

    for (i = 0; i < 3; i++)
        ck_assert_double_eq_tol(ratio(6, 6, rows[i][0], 1, HINGE_ROOT) /
                                    ratio(6, 6, 0, 1, HINGE_ROOT),
                                rows[i][1], 5e-3);
}
END_TEST

/* The plastic moment of a rectangle a unit wide is fy·t²/4, half more than the elastic fy·t²/6 (any
 * text on plastic design; shape factor 1.5); EN 1993-1-8 4.5.3.2 [mem]: √(σ² + 3τ²) = fw with σ = τ
 * = F/(a·√2) gives F = fw·a/√2. */
START_TEST(moments_by_textbook)
{
    struct hinge_joint j = joint(8, 5, 0, 2, HINGE_ROOT);
    struct hinge h = hinge_check(&j);
    double a = j.throat.v, f = 480 * a / sqrt(2), stress = f / (a * sqrt(2));

    ck_assert_double_eq_tol(h.plate.v, 1.5 * 250 * 64 / 6, 1e-9);
    ck_assert_double_eq_tol(sqrt(stress * stress + 3 * stress * stress), 480, 1e-9);
    ck_assert_double_eq_tol(h.weld.v, f * (8 + a / sqrt(2)), 1e-9);
}
END_TEST

/* [common] ordering: both sides beat one; opening the root is the weakest direction; an unfused
 * root weakens; one pass on thin plate folds the plate while the same bead on thick plate breaks.
 */
START_TEST(ordering_of_common_practice)
{
    ck_assert(ratio(6, 5, 0, 2, HINGE_ROOT) > ratio(6, 5, 0, 1, HINGE_ROOT));
    ck_assert(ratio(6, 5, 0, 2, HINGE_FACE) > ratio(6, 5, 0, 1, HINGE_FACE));
    ck_assert(ratio(6, 5, 0, 1, HINGE_FACE) > ratio(6, 5, 0, 1, HINGE_ROOT));
    ck_assert(ratio(6, 5, 1, 2, HINGE_ROOT) < ratio(6, 5, 0, 2, HINGE_ROOT));
    ck_assert(ratio(3, 5, 0, 1, HINGE_ROOT) > 1);
    ck_assert(ratio(8, 5, 0, 1, HINGE_ROOT) < 1);
}
END_TEST

/* Backward and forward are one another's inverse. */
START_TEST(throat_needed_gives_the_ratio_back)
{
    static const double wanted[] = {0.5, 1, 1.3, 3};
    int sides, opening;
    size_t i;

    for (sides = 1; sides <= 2; sides++)
        for (opening = HINGE_ROOT; opening <= HINGE_FACE; opening++)
            for (i = 0; i < sizeof wanted / sizeof *wanted; i++) {
                struct hinge_joint j = joint(5, 1, 0.7, sides, (enum hinge_opening)opening);

                j.throat = hinge_throat_needed(&j, wanted[i]);
                ck_assert_double_eq_tol(hinge_check(&j).weld_to_plate, wanted[i], 1e-9);
            }
}
END_TEST

START_TEST(monotone)
{
    double x;

    for (x = 1; x < 10; x++) {
        ck_assert(ratio(6, x + 1, 0, 1, HINGE_ROOT) > ratio(6, x, 0, 1, HINGE_ROOT));
        ck_assert(ratio(x + 1, 4, 0, 2, HINGE_ROOT) < ratio(x, 4, 0, 2, HINGE_ROOT));
        ck_assert(ratio(6, 8, 0.5 * x + 0.5, 1, HINGE_FACE) < ratio(6, 8, 0.5 * x, 1, HINGE_FACE) ||
                  isnan(ratio(6, 8, 0.5 * x + 0.5, 1, HINGE_FACE)));
    }
}
END_TEST

/* 3/16 in plate, 1/4 in leg, 36 and 70 ksi: the ratio has no unit. */
START_TEST(inch_and_metric_agree)
{
    struct hinge_joint mm = {{4.7625}, {6.35 / sqrt(2)}, {0.5}, {250}, {480}, 2, HINGE_ROOT};
    struct hinge_joint in = {{0.1875},
                             {0.25 / sqrt(2)},
                             {0.5 / 25.4},
                             {250 / 6.894757293168361},
                             {480 / 6.894757293168361},
                             2,
                             HINGE_ROOT};

    ck_assert_double_eq_tol(hinge_check(&mm).weld_to_plate, hinge_check(&in).weld_to_plate, 1e-12);
}
END_TEST

START_TEST(outside_the_range_it_says_so)
{
    struct hinge_joint bare = joint(6, 4, 3, 1, HINGE_ROOT), fat = joint(2, 8, 0, 1, HINGE_ROOT),
                       three = joint(6, 4, 0, 3, HINGE_ROOT);

    ck_assert(isnan(hinge_check(&bare).weld_to_plate)); /* unfused through the throat */
    ck_assert_ptr_nonnull(hinge_check(&fat).outside);
    ck_assert(hinge_check(&fat).weld_to_plate > 1);
    ck_assert_ptr_nonnull(hinge_check(&three).outside);
    ck_assert(isnan(hinge_throat_needed(&three, 1).v));
    ck_assert(isnan(hinge_throat_needed(&fat, 0).v));
}
END_TEST

static struct hinge_coupon coupon(double t, double leg, bool held)
{
    return (struct hinge_coupon){
        .joint = joint(t, leg, 0, 1, HINGE_ROOT), .held = held, .moment = {NAN}};
}

/* One side, root opening: fw·a² = fy·t² at the limit, so fw = 2·fy·t²/z². t 4 z 6 held: at least
 * 222.2; t 6 z 4 broke: at most 1125; t 6 z 6 broke: at most 500 [calc]. */
START_TEST(coupons_bound_the_strength)
{
    struct hinge_coupon list[] = {coupon(4, 6, true), coupon(6, 4, false), coupon(6, 6, false)};
    struct hinge_fit fit = hinge_fit(list, 3);

    ck_assert_double_eq_tol(fit.at_least.v, 2 * 250 * 16 / 36.0, 1e-9);
    ck_assert_double_eq_tol(fit.at_most.v, 500, 1e-9);
    ck_assert_uint_eq(fit.held, 1);
    ck_assert_uint_eq(fit.broke, 2);
    ck_assert(!fit.contradict);
}
END_TEST

/* Readings with ± only ever widen the bounds, and hold for every reading within its ±. */
START_TEST(reading_errors_widen_the_bounds)
{
    struct hinge_coupon sharp[] = {coupon(5, 6, true), coupon(6, 5, false)}, blunt[2];
    struct hinge_fit a = hinge_fit(sharp, 2), b;
    double dt, dz;
    size_t i;

    for (i = 0; i < 2; i++) {
        blunt[i] = sharp[i];
        blunt[i].thickness_error.v = 0.2;
        blunt[i].throat_error.v = 0.3;
        blunt[i].yield_error = 0.1;
    }
    b = hinge_fit(blunt, 2);
    ck_assert(b.at_least.v < a.at_least.v && b.at_most.v > a.at_most.v);
    for (dt = -0.2; dt <= 0.2; dt += 0.1)
        for (dz = -0.3; dz <= 0.3; dz += 0.1)
            for (i = 0; i < 2; i++) {
                struct hinge_coupon c = sharp[i];

                c.joint.thickness.v += dt;
                c.joint.throat.v += dz;
                if (c.held)
                    ck_assert(hinge_fit(&c, 1).at_least.v >= b.at_least.v - 1e-9);
                else
                    ck_assert(hinge_fit(&c, 1).at_most.v <= b.at_most.v + 1e-9);
            }
}
END_TEST

START_TEST(a_measured_moment_bounds_both_ways)
{
    struct hinge_coupon c = coupon(6, 6, false);
    struct hinge_fit fit;

    c.moment.v = 1800; /* N·mm/mm; shape 6²/2/4 = 4.5 mm² */
    fit = hinge_fit(&c, 1);
    ck_assert_double_eq_tol(fit.at_least.v, 400, 1e-9);
    ck_assert_double_eq_tol(fit.at_most.v, 400, 1e-9);
    c.held = true;
    fit = hinge_fit(&c, 1);
    ck_assert_double_eq_tol(fit.at_least.v, 400, 1e-9);
    ck_assert(isinf(fit.at_most.v));
}
END_TEST

START_TEST(coupons_that_contradict_or_say_nothing)
{
    struct hinge_coupon odd[] = {coupon(6, 4, true), coupon(4, 6, false)},
                        none = coupon(0, 6, true);

    ck_assert(hinge_fit(odd, 2).contradict);
    ck_assert_uint_eq(hinge_fit(&none, 1).left_out, 1);
    ck_assert(isinf(hinge_fit(NULL, 0).at_most.v));
    ck_assert(!hinge_fit(NULL, 0).contradict);
}
END_TEST

/* What can be no reading leaves a coupon out; each bound on its own. */
START_TEST(coupons_left_out_one_reading_at_a_time)
{
    struct hinge_coupon good = coupon(6, 6, true), odd[8];

    for (size_t i = 0; i < 8; i++)
        odd[i] = good;
    odd[0].moment.v = 0;
    odd[1].moment.v = -1;
    odd[2].joint.yield.v = 0;
    odd[3].thickness_error.v = -0.1;
    odd[4].throat_error.v = -0.1;
    odd[5].unfused_error.v = -0.1;
    odd[6].yield_error = -0.1;
    odd[7].joint.unfused = odd[7].joint.throat;
    for (size_t i = 0; i < 8; i++)
        ck_assert_msg(hinge_fit(&odd[i], 1).left_out == 1, "%zu", i);
    ck_assert_uint_eq(hinge_fit(&good, 1).left_out, 0);
    good.moment.v = 1800; /* a gauge needs no yield: 1800/4.5 */
    good.joint.yield.v = 0;
    ck_assert_double_eq_tol(hinge_fit(&good, 1).at_least.v, 400, 1e-9);
}
END_TEST

/* A ± as large as its reading ends at 0. Throat 3 and plate 0.5 ± 0.2, held: 250·0.3²/4 over 3²/4
 * = 2.5. Throat 0.8 ± 0.3, plate 6, broke: 250·36/4 over 0.5²/4 = 36,000; both sides with plate
 * 0.5 ± 0.2: 250·0.7²/4 over 0.5/√2·(0.3 + 0.5/√2). */
START_TEST(readings_end_at_zero)
{
    struct hinge_coupon c = coupon(0.5, 3 * sqrt(2), true);

    c.thickness_error.v = 0.2;
    ck_assert_double_eq_tol(hinge_fit(&c, 1).at_least.v, 2.5, 1e-9);
    c.joint.unfused.v = 0.2;
    c.unfused_error.v = 0.5; /* the most metal: a root fused whole */
    ck_assert_double_eq_tol(hinge_fit(&c, 1).at_least.v, 2.5, 1e-9);
    c.thickness_error.v = 0.6;
    ck_assert_double_eq(hinge_fit(&c, 1).at_least.v, 0);
    c = coupon(6, 0.8 * sqrt(2), false);
    c.throat_error.v = 0.3;
    ck_assert_double_eq_tol(hinge_fit(&c, 1).at_most.v, 36000, 1e-6);
    c.throat_error.v = 0.9;
    ck_assert(isinf(hinge_fit(&c, 1).at_most.v));
    c = coupon(0.5, 0.5 * sqrt(2), false);
    c.joint.sides = 2;
    c.thickness_error.v = 0.2;
    ck_assert_double_eq_tol(hinge_fit(&c, 1).at_most.v,
                            250 * 0.49 / 4 / (0.5 / sqrt(2) * (0.3 + 0.5 / sqrt(2))), 1e-9);
}
END_TEST

START_TEST(each_bound_of_the_check)
{
    struct hinge_joint good = joint(3, 4, 0.5, 1, HINGE_ROOT), bad[7];

    for (size_t i = 0; i < 7; i++)
        bad[i] = good;
    bad[0].thickness.v = 0;
    bad[1].unfused.v = -0.1;
    bad[2].yield.v = 0;
    bad[3].strength.v = 0;
    bad[4].sides = 0;
    bad[5].sides = 3;
    bad[6].throat.v = 0;
    for (size_t i = 0; i < 7; i++) {
        ck_assert_msg(isnan(hinge_check(&bad[i]).weld_to_plate), "%zu", i);
        ck_assert_msg(hinge_check(&bad[i]).outside != NULL, "%zu", i);
        ck_assert_msg(isnan(hinge_throat_needed(&bad[i], 1).v) == (i < 6), "%zu", i);
    }
    ck_assert_ptr_nonnull(strstr(hinge_check(&bad[6]).outside, "throat must be above 0"));
    bad[3].strength.v = -480;
    ck_assert(isnan(hinge_throat_needed(&bad[3], -1).v));
    ck_assert(isnan(hinge_throat_needed(&good, INFINITY).v));
    good.throat.v = 6; /* twice the plate: still the triangle */
    ck_assert_ptr_null(hinge_check(&good).outside);
    good.throat.v = 6.01;
    ck_assert_ptr_nonnull(strstr(hinge_check(&good).outside, "twice the thickness"));
}
END_TEST

START_TEST(a_root_unfused_through_the_throat)
{
    struct hinge_joint j = {.thickness = {6},
                            .throat = {3},
                            .unfused = {3},
                            .yield = {250},
                            .strength = {480},
                            .sides = 1};

    ck_assert_ptr_nonnull(strstr(hinge_check(&j).outside, "no weld left"));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/hinge");
    TCase *t = tcase_create("hinge");

    tcase_add_test(t, four_shapes);
    tcase_add_test(t, unfused_root_counts_squared);
    tcase_add_test(t, moments_by_textbook);
    tcase_add_test(t, ordering_of_common_practice);
    tcase_add_test(t, throat_needed_gives_the_ratio_back);
    tcase_add_test(t, monotone);
    tcase_add_test(t, inch_and_metric_agree);
    tcase_add_test(t, outside_the_range_it_says_so);
    tcase_add_test(t, coupons_bound_the_strength);
    tcase_add_test(t, reading_errors_widen_the_bounds);
    tcase_add_test(t, a_measured_moment_bounds_both_ways);
    tcase_add_test(t, coupons_that_contradict_or_say_nothing);
    tcase_add_test(t, coupons_left_out_one_reading_at_a_time);
    tcase_add_test(t, readings_end_at_zero);
    tcase_add_test(t, each_bound_of_the_check);
    tcase_add_test(t, a_root_unfused_through_the_throat);
    suite_add_tcase(s, t);
    return s;
}
