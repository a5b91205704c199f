/* Passes, bends and flaws as they are typed. */
#include "run.h"

#include <math.h>
#include <string.h>

#include "cli/parts.h"

static struct session session;
static struct coupon coupon;
static struct page questions;
static struct entry_target target = {&session, &coupon, &questions};

static void begin(void)
{
    memset(&session, 0, sizeof session);
    memset(&questions, 0, sizeof questions);
    variable_list_init(&session.variables);
    coupon_init(&coupon);
}

static void end(void)
{
    coupon_free(&coupon);
    page_free(&questions);
    variable_list_free(&session.variables);
}

START_TEST(a_pass_takes_units_and_keeps_what_is_not_said_unknown)
{
    struct error e = {0};
    const struct pass *p;

    ck_assert_int_eq(part_pass(&target, "side=2 arc=1m20s length=4in volts=18 feed=200ipm", &e), 0);
    p = &coupon.passes[0];
    ck_assert_int_eq(p->number, 1);
    ck_assert_int_eq(p->side, 2);
    ck_assert_double_eq_tol(p->arc_s, 80, 1e-12);
    ck_assert_double_eq_tol(p->length_mm, 101.6, 1e-12);
    ck_assert_double_eq_tol(p->feed_mm_per_min, 5080, 1e-9);
    ck_assert(isnan(p->amps));
    ck_assert_uint_eq(questions.count, 0);
}
END_TEST

START_TEST(a_pass_is_changed_by_its_number)
{
    struct error e = {0};

    ck_assert_int_eq(part_pass(&target, "arc=10s amps=120", &e), 0);
    ck_assert_int_eq(part_pass(&target, "number=1 amps=", &e), 0);
    ck_assert_int_eq(part_pass(&target, "number=2 arc=12s", &e), 0);
    ck_assert_uint_eq(coupon.pass_count, 2);
    ck_assert(isnan(coupon.passes[0].amps));
    ck_assert_double_eq(coupon.passes[0].arc_s, 10);
    ck_assert_int_lt(part_pass(&target, "number=4 arc=1s", &e), 0);
    ck_assert_int_lt(part_pass(&target, "number=0 arc=1s", &e), 0);
}
END_TEST

/* Every key stands in scripts and habits: none may go away or change its row. */
START_TEST(the_keys_are_those_of_the_manual)
{
    struct error e = {0};
    const struct pass *p;
    const struct bend *b = &coupon.bend;

    ck_assert_msg(part_pass(&target,
                            "side=1 arc=35 length=100 volts=18 amps=120 feed=5000 start=20 "
                            "pause=90",
                            &e) == 0,
                  "%s", e.text);
    ck_assert_msg(part_bend(&target,
                            "ended=tore direction=face before=90 after=150 gap-before=100 "
                            "gap-after=60 leg=80 former=20 radius=6 crack=30 load=150 lever=400",
                            &e) == 0,
                  "%s", e.text);
    ck_assert_uint_eq(questions.count, 0);
    p = &coupon.passes[0];
    ck_assert(p->side == 1 && p->arc_s == 35 && p->length_mm == 100 && p->volts == 18 &&
              p->amps == 120 && p->feed_mm_per_min == 5000 && p->start_c == 20 && p->pause_s == 90);
    ck_assert(b->end == BEND_TORE && b->direction == BEND_FACE_OPENING && b->before_deg == 90 &&
              b->after_deg == 150 && b->before_gap_mm == 100 && b->after_gap_mm == 60);
    ck_assert(b->leg_mm == 80 && b->former_mm == 20 && b->inside_radius_mm == 6 &&
              b->first_crack_deg == 30 && b->load_n == 150 && b->lever_mm == 400);
    ck_assert_int_lt(part_pass(&target, "leg=3", &e), 0);
    ck_assert_str_eq(e.text, "pass: a pass has no 'leg'; it has number, side, arc, length, volts, "
                             "amps, feed, start, pause");
    e = (struct error){0};
    ck_assert_int_lt(part_bend(&target, "number=1", &e), 0);
    ck_assert_str_eq(e.text,
                     "bend: a bend has no 'number'; it has ended, direction, before, after, "
                     "gap-before, gap-after, leg, former, radius, crack, load, lever");
}
END_TEST

START_TEST(the_face_is_read_over_a_length)
{
    static const char *const bad[] = {"", "0", "-5mm", "wide"};
    struct error e = {0};

    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        e = (struct error){0};
        ck_assert_int_lt(part_face(&target, bad[i], &e), 0);
        ck_assert_int_eq(e.kind, ERROR_INPUT);
        ck_assert(!coupon.face_read && isnan(coupon.bead_mm));
    }
    ck_assert_int_eq(part_face(&target, "2-1/2in", &e), 0);
    ck_assert_double_eq_tol(coupon.bead_mm, 63.5, 1e-12);
    ck_assert(coupon.face_read);
    ck_assert_uint_eq(questions.count, 0);
    ck_assert_int_eq(part_face(&target, "4", &e), 0);
    ck_assert_uint_eq(questions.count, 1);
}
END_TEST

START_TEST(limits_of_the_variable_table_hold_for_passes)
{
    struct error e = {0};

    ck_assert_int_lt(part_pass(&target, "volts=400", &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_int_eq(part_pass(&target, "volts=9", &e), 0);
    ck_assert_uint_eq(questions.count, 1);
}
END_TEST

START_TEST(a_bend_needs_its_end_and_a_gap_its_leg)
{
    struct error e = {0};

    ck_assert_int_eq(part_bend(&target, "before=90 after=178 ended=held direction=root", &e), 0);
    ck_assert_int_eq(coupon.bend.end, BEND_HELD);
    ck_assert_int_eq(coupon.bend.direction, BEND_ROOT_OPENING);
    ck_assert_double_eq(coupon.bend.after_deg, 178);
    coupon_free(&coupon);
    coupon_init(&coupon);
    ck_assert_int_lt(part_bend(&target, "after=100", &e), 0);
    ck_assert_int_lt(part_bend(&target, "ended=broke gap-after=2in", &e), 0);
    ck_assert_int_eq(part_bend(&target, "leg=1-1/4in", &e), 0);
    ck_assert_double_eq_tol(coupon.bend.leg_mm, 31.75, 1e-12);
}
END_TEST

START_TEST(flaws_lie_along_the_bead)
{
    static const struct {
        const char *text;
        double from, to;
    } good[] = {{"0-12 4013", 0, 12},
                {"0-1/2in 4013", 0, 12.7},
                {"1/4..1/2in 401 at the toe", 6.35, 12.7},
                {"5mm-1in 2011", 5, 25.4},
                {"12..12 2017", 12, 12}};
    static const char *const bad[] = {
        "",          "4013",       "12 4013",    "0-12",     "0-12 mm 4013",
        "12-3 4013", "0-12 40135", "0-12 -4013", "a-b 4013", "-3-5 4013"};
    struct error e = {0};

    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        ck_assert_msg(part_flaw(&target, good[i].text, &e) == 0, "%s: %s", good[i].text, e.text);
        ck_assert_double_eq_tol(coupon.flaws[i].from_mm, good[i].from, 1e-9);
        ck_assert_double_eq_tol(coupon.flaws[i].to_mm, good[i].to, 1e-9);
    }
    ck_assert_str_eq(coupon.flaws[2].note, "at the toe");
    ck_assert(coupon.face_read);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_msg(part_flaw(&target, bad[i], &e) < 0, "%s", bad[i]);
    ck_assert_uint_eq(coupon.flaw_count, sizeof good / sizeof *good);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("cli/parts");
    TCase *t = tcase_create("parts");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_test(t, a_pass_takes_units_and_keeps_what_is_not_said_unknown);
    tcase_add_test(t, a_pass_is_changed_by_its_number);
    tcase_add_test(t, the_keys_are_those_of_the_manual);
    tcase_add_test(t, the_face_is_read_over_a_length);
    tcase_add_test(t, limits_of_the_variable_table_hold_for_passes);
    tcase_add_test(t, a_bend_needs_its_end_and_a_gap_its_leg);
    tcase_add_test(t, flaws_lie_along_the_bead);
    suite_add_tcase(s, t);
    return s;
}
