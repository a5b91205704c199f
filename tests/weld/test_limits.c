/* Guided-bend and fillet-break limits: AWS D1.1:2015 4.9.3.3 and AWS D1.1:2010 4.31.4.1. The
 * vectors are worked out from the limits [calc]. */
#include "run.h"

#include "weld/bendlimits.h"

#define COUNT(list) (sizeof list / sizeof *list)
#define MM(...) ((const struct mm[]){__VA_ARGS__})
#define GUIDED(...)                                                                                \
    guided_bend_mm(MM(__VA_ARGS__), sizeof MM(__VA_ARGS__) / sizeof(struct mm), NULL, 0).verdict

static enum limit_verdict corner_mm(double size, bool from_flaw)
{
    struct corner_crack_mm c = {{size}, from_flaw};

    return guided_bend_mm(NULL, 0, &c, 1).verdict;
}

START_TEST(guided_bend_in_mm)
{
    ck_assert_int_eq(GUIDED({3.0}), LIMIT_PASS);
    ck_assert_int_eq(GUIDED({3.1}), LIMIT_FAIL);
    ck_assert_int_eq(GUIDED({2.5}, {2.5}, {2.5}, {2.4}), LIMIT_PASS);
    ck_assert_int_eq(GUIDED({2.5}, {2.5}, {2.5}, {2.5}), LIMIT_PASS);
    ck_assert_int_eq(GUIDED({2.5}, {2.5}, {2.5}, {2.5}, {1.2}), LIMIT_FAIL);
    ck_assert_int_eq(
        GUIDED({1.0}, {1.0}, {1.0}, {1.0}, {1.0}, {1.0}, {1.0}, {1.0}, {1.0}, {1.0}, {1.0}),
        LIMIT_PASS); /* those up to 1 mm do not count */
    ck_assert_int_eq(guided_bend_mm(NULL, 0, NULL, 0).verdict, LIMIT_PASS);
}
END_TEST

START_TEST(corner_cracks)
{
    ck_assert_int_eq(corner_mm(6, false), LIMIT_PASS);
    ck_assert_int_eq(corner_mm(5, true), LIMIT_FAIL);
    ck_assert_int_eq(corner_mm(3, true), LIMIT_PASS);
    ck_assert_int_eq(corner_mm(7, false), LIMIT_NEW_SPECIMEN);
    ck_assert_int_eq(corner_mm(7, true), LIMIT_FAIL);
}
END_TEST

/* A specimen that fails on its face is not asked for again because of a corner. */
START_TEST(failure_stands_before_a_new_specimen)
{
    struct corner_crack_mm clean = {{7}, false};
    struct corner_crack_mm both[] = {{{7}, false}, {{4}, true}};

    ck_assert_int_eq(guided_bend_mm(MM({3.1}), 1, &clean, 1).verdict, LIMIT_FAIL);
    ck_assert_int_eq(guided_bend_mm(NULL, 0, both, 2).verdict, LIMIT_FAIL);
}
END_TEST

/* 1/8, 1/32, 3/8, 1/4 in are not 3, 1, 10, 6 mm: 3.1 mm fails in mm and 3.1 mm written as 0.122 in
 * passes in inch, so neither may be converted into the other. */
START_TEST(the_systems_are_not_mixed)
{
    struct inch just = {3.1 / 25.4}, too_much = {0.126};
    struct corner_crack_inch corner = {{0.251}, false};
    struct inch many[] = {{0.1}, {0.1}, {0.1}, {0.07}}, more[] = {{0.1}, {0.1}, {0.1}, {0.08}};

    ck_assert_int_eq(GUIDED({3.1}), LIMIT_FAIL);
    ck_assert_int_eq(guided_bend_inch(&just, 1, NULL, 0).verdict, LIMIT_PASS);
    ck_assert_int_eq(guided_bend_inch(&too_much, 1, NULL, 0).verdict, LIMIT_FAIL);
    ck_assert_int_eq(guided_bend_inch(NULL, 0, &corner, 1).verdict, LIMIT_NEW_SPECIMEN);
    ck_assert_int_eq(guided_bend_inch(many, COUNT(many), NULL, 0).verdict, LIMIT_PASS);
    ck_assert_int_eq(guided_bend_inch(more, COUNT(more), NULL, 0).verdict, LIMIT_FAIL);
}
END_TEST

START_TEST(fillet_break)
{
    const struct mm *fine = MM({2.5}, {2.5}, {2.5}, {2.5}), *large = MM({2.6}),
                    *many = MM({2.5}, {2.5}, {2.5}, {2.5}, {0.1});
    struct mm whole = {150};

    ck_assert_int_eq(fillet_break_mm(true, false, large, 1, whole).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break_mm(false, false, NULL, 0, whole).verdict, LIMIT_FAIL);
    ck_assert_int_eq(fillet_break_mm(false, true, NULL, 0, whole).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break_mm(false, true, fine, 4, whole).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break_mm(false, true, large, 1, whole).verdict, LIMIT_FAIL);
    ck_assert_int_eq(fillet_break_mm(false, true, many, 5, whole).verdict, LIMIT_FAIL);
    ck_assert_int_eq(fillet_break_mm(false, true, NULL, 0, whole).verdict, LIMIT_PASS);
    /* a specimen of another length neither passes nor fails, whatever it shows */
    ck_assert_int_eq(fillet_break_mm(false, true, NULL, 0, (struct mm){80}).verdict, LIMIT_OUTSIDE);
    ck_assert_int_eq(fillet_break_mm(true, true, NULL, 0, (struct mm){134.9}).verdict,
                     LIMIT_OUTSIDE);
    ck_assert_int_eq(fillet_break_mm(false, false, NULL, 0, (struct mm){165.1}).verdict,
                     LIMIT_OUTSIDE);
    ck_assert_int_eq(fillet_break_mm(true, true, NULL, 0, (struct mm){135}).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break_mm(true, true, NULL, 0, (struct mm){165}).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break_inch(true, true, NULL, 0, (struct inch){5.3}).verdict,
                     LIMIT_OUTSIDE);
}
END_TEST

/* 3/32 in is 2.38 mm, 3/8 in is 9.5 mm. */
START_TEST(fillet_break_in_inch)
{
    struct inch small = {3 / 32.0}, large = {0.1}, whole = {6};

    ck_assert_int_eq(fillet_break_inch(false, true, &small, 1, whole).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break_inch(false, true, &large, 1, whole).verdict, LIMIT_FAIL);
    ck_assert_int_eq(fillet_break_mm(false, true, MM({2.5}), 1, (struct mm){150}).verdict,
                     LIMIT_PASS);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/limits");
    TCase *t = tcase_create("limits");

    tcase_add_test(t, guided_bend_in_mm);
    tcase_add_test(t, corner_cracks);
    tcase_add_test(t, failure_stands_before_a_new_specimen);
    tcase_add_test(t, the_systems_are_not_mixed);
    tcase_add_test(t, fillet_break);
    tcase_add_test(t, fillet_break_in_inch);
    suite_add_tcase(s, t);
    return s;
}
