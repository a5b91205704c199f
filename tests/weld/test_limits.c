/* Guided-bend and fillet-break limits: AWS D1.1:2015 4.9.3.3 and AWS D1.1:2010 4.31.4.1. The
 * vectors are worked out from the limits [calc]. */
#include "run.h"

#include <math.h>

#include "weld/bendlimits.h"

enum { MOST = 12 };

#define MM UNITS_METRIC
#define INCH UNITS_INCH

/* Sizes up to the first 0. 1/8, 1/32, 3/8, 1/4 in are not 3, 1, 10, 6 mm: 3.1 mm fails in mm and
 * passes written as 0.122 in, so neither may be converted into the other. */
static const struct {
    enum unit_system system;
    double sizes[MOST];
    struct corner_crack corners[3];
    enum limit_verdict verdict;
} guided[] = {
    {MM, {0}, {{0, false}}, LIMIT_PASS},
    {MM, {3}, {{0, false}}, LIMIT_PASS},
    {MM, {3.001}, {{0, false}}, LIMIT_FAIL},
    {MM, {2.5, 2.5, 2.5, 2.4}, {{0, false}}, LIMIT_PASS},
    {MM, {2.5, 2.5, 2.5, 2.5}, {{0, false}}, LIMIT_PASS},
    {MM, {2.5, 2.5, 2.5, 2.501}, {{0, false}}, LIMIT_FAIL},
    {MM, {2.5, 2.5, 2.5, 2.5, 1.2}, {{0, false}}, LIMIT_FAIL},
    {MM, {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, {{0, false}}, LIMIT_PASS}, /* up to 1 mm: not counted */
    {MM, {2.5, 2.5, 2.5, 1.501, 1.001}, {{0, false}}, LIMIT_FAIL},
    {MM, {2.5, 2.5, 2.5, 1.501, 1}, {{0, false}}, LIMIT_PASS},
    {MM, {0}, {{6, false}}, LIMIT_PASS},
    {MM, {0}, {{6.001, false}}, LIMIT_NEW_SPECIMEN},
    {MM, {0}, {{3, true}}, LIMIT_PASS},
    {MM, {0}, {{3.001, true}}, LIMIT_FAIL},
    {MM, {0}, {{7, true}}, LIMIT_FAIL},
    /* a specimen that fails is not asked for again because of a corner */
    {MM, {3.1}, {{7, false}}, LIMIT_FAIL},
    {MM, {0}, {{7, false}, {4, true}}, LIMIT_FAIL},
    {MM, {0}, {{7, false}, {2, false}}, LIMIT_NEW_SPECIMEN},
    {INCH, {3.1 / 25.4}, {{0, false}}, LIMIT_PASS},
    {INCH, {1 / 8.0}, {{0, false}}, LIMIT_PASS},
    {INCH, {0.126}, {{0, false}}, LIMIT_FAIL},
    {INCH, {0.1, 0.1, 0.1, 0.075}, {{0, false}}, LIMIT_PASS},
    {INCH, {0.1, 0.1, 0.1, 0.076}, {{0, false}}, LIMIT_FAIL},
    {INCH, {0.1, 0.1, 0.1, 0.06, 1 / 32.0}, {{0, false}}, LIMIT_PASS},
    {INCH, {0.1, 0.1, 0.1, 0.06, 0.032}, {{0, false}}, LIMIT_FAIL},
    {INCH, {0}, {{1 / 4.0, false}}, LIMIT_PASS},
    {INCH, {0}, {{0.251, false}}, LIMIT_NEW_SPECIMEN},
    {INCH, {0}, {{1 / 8.0, true}}, LIMIT_PASS},
    {INCH, {0}, {{0.126, true}}, LIMIT_FAIL},
};

static size_t count_of(const double *sizes)
{
    size_t n = 0;

    while (sizes[n] > 0)
        n++;
    return n;
}

START_TEST(guided_bends)
{
    struct limit_answer a;
    size_t corners = 0;

    while (guided[_i].corners[corners].size > 0)
        corners++;
    a = guided_bend(guided[_i].system, guided[_i].sizes, count_of(guided[_i].sizes),
                    guided[_i].corners, corners);
    ck_assert_int_eq(a.verdict, guided[_i].verdict);
    ck_assert_ptr_nonnull(a.why);
}
END_TEST

/* 3/32 in is 2.38 mm, 3/8 in is 9.5 mm. A specimen of another length neither passes nor fails,
 * whatever it shows. */
static const struct {
    enum unit_system system;
    bool folded, fused;
    double sizes[MOST], length;
    enum limit_verdict verdict;
} breaks[] = {
    {MM, true, false, {2.6}, 150, LIMIT_PASS},
    {MM, false, false, {0}, 150, LIMIT_FAIL},
    {MM, false, true, {0}, 150, LIMIT_PASS},
    {MM, false, true, {2.5, 2.5, 2.5, 2.5}, 150, LIMIT_PASS},
    {MM, false, true, {2.501}, 150, LIMIT_FAIL},
    {MM, false, true, {2.5, 2.5, 2.5, 2.5, 0.001}, 150, LIMIT_FAIL},
    {MM, false, true, {0}, 80, LIMIT_OUTSIDE},
    {MM, true, true, {0}, 134.9, LIMIT_OUTSIDE},
    {MM, true, true, {0}, 135, LIMIT_PASS},
    {MM, true, true, {0}, 165, LIMIT_PASS},
    {MM, false, false, {0}, 165.1, LIMIT_OUTSIDE},
    {INCH, false, true, {3 / 32.0}, 6, LIMIT_PASS},
    {INCH, false, true, {0.0938}, 6, LIMIT_FAIL},
    {INCH, false, true, {0.09, 0.09, 0.09, 0.09, 0.015}, 6, LIMIT_PASS},
    {INCH, false, true, {0.09, 0.09, 0.09, 0.09, 0.016}, 6, LIMIT_FAIL},
    {INCH, true, true, {0}, 5.4, LIMIT_PASS},
    {INCH, true, true, {0}, 5.3, LIMIT_OUTSIDE},
    {INCH, true, true, {0}, 6.7, LIMIT_OUTSIDE},
};

/* A specimen whose length is not said is taken as that of the code. */
START_TEST(length_not_said)
{
    ck_assert_int_eq(fillet_break(UNITS_METRIC, false, true, NULL, 0, NAN).verdict, LIMIT_PASS);
    ck_assert_int_eq(fillet_break(UNITS_INCH, false, false, NULL, 0, NAN).verdict, LIMIT_FAIL);
    ck_assert_int_eq(fillet_break(UNITS_INCH, true, false, NULL, 0, 150).verdict, LIMIT_OUTSIDE);
}
END_TEST

START_TEST(fillet_breaks)
{
    struct limit_answer a =
        fillet_break(breaks[_i].system, breaks[_i].folded, breaks[_i].fused, breaks[_i].sizes,
                     count_of(breaks[_i].sizes), breaks[_i].length);

    ck_assert_int_eq(a.verdict, breaks[_i].verdict);
    ck_assert_ptr_nonnull(a.why);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/limits");
    TCase *t = tcase_create("limits");

    tcase_add_loop_test(t, guided_bends, 0, (int)(sizeof guided / sizeof *guided));
    tcase_add_loop_test(t, fillet_breaks, 0, (int)(sizeof breaks / sizeof *breaks));
    tcase_add_test(t, length_not_said);
    suite_add_tcase(s, t);
    return s;
}
