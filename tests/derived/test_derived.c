/* Derived values of a coupon, and the figures of its card, worked by hand. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "derived/coupon_figures.h"
#include "derived/derived.h"
#include "derived/strength_reached.h"

static void number(struct coupon *c, const char *key, double value)
{
    coupon_set_number(c, key, measure_exact(value), NULL);
}

static void add_pass(struct coupon *c, double v, double a, double mm, double s, double pause)
{
    struct pass *p = coupon_add_pass(c);

    p->volts = v;
    p->amps = a;
    p->length_mm = mm;
    p->arc_s = s;
    p->pause_s = pause;
}

static void add_flaw(struct coupon *c, double from, double to, int iso)
{
    struct flaw *f = coupon_add_flaw(c);

    f->from_mm = from;
    f->to_mm = to;
    f->iso6520 = iso;
}

/* A tee of 5 mm plate, 4 mm legs, two passes of 100 mm. Pass 1: 18 V 140 A in 20 s, 5 mm/s: 0.504
 * kJ/mm. Pass 2: 20 V 150 A in 25 s, 4 mm/s: 0.75 kJ/mm. Mean by length 0.627, with k 0.8 0.5016
 * kJ/mm. */
static void make_tee(struct coupon *c)
{
    coupon_init(c);
    coupon_set_category(c, "process", "135 MAG solid wire");
    coupon_set_category(c, "joint", "tee");
    coupon_set_category(c, "sides", "one");
    number(c, "thickness", 5);
    number(c, "leg", 4);
    add_pass(c, 18, 140, 100, 20, NAN);
    add_pass(c, 20, 150, 100, 25, 60);
}

static double value(const struct coupon *c, const char *key)
{
    struct measure m = coupon_measure(c, key);

    ck_assert_msg(m.kind == MEASURE_EXACT || m.kind == MEASURE_MISSING, "%s", key);
    return m.low;
}

/* NULL when the card does not show it. */
static const struct calc_figure *find_figure(const struct coupon_figures *f, int pass,
                                             const char *key)
{
    for (size_t i = 0; i < f->count; i++)
        if (f->items[i].pass == pass && strcmp(f->items[i].figure.key, key) == 0)
            return &f->items[i].figure;
    return NULL;
}

START_TEST(passes_are_averaged_never_added)
{
    struct coupon c;

    make_tee(&c);
    ck_assert_double_eq_tol(value(&c, "arc_energy"), 0.627, 1e-12);
    ck_assert_double_eq_tol(value(&c, "heat_input"), 0.5016, 1e-12);
    ck_assert_double_eq_tol(value(&c, "travel_speed"), 60 * 200 / 45.0, 1e-9);
    ck_assert_double_eq(value(&c, "passes"), 2);
    ck_assert_double_eq_tol(value(&c, "throat_ratio"), 4 / sqrt(2) / 5, 1e-12);
    ck_assert_double_eq_tol(value(&c, "leg_ratio"), 0.8, 1e-12);
    coupon_free(&c);
}
END_TEST

/* Unequal lengths count by length; with one length missing, by arc time. */
START_TEST(weights_of_the_mean)
{
    struct coupon c;

    make_tee(&c);
    c.passes[1].length_mm = 300;
    c.passes[1].arc_s = 75; /* still 4 mm/s */
    ck_assert_double_eq_tol(value(&c, "arc_energy"), (0.504 * 100 + 0.75 * 300) / 400, 1e-12);
    c.passes[0].length_mm = NAN;
    number(&c, "travel_speed", 300); /* 5 mm/s for the pass without length */
    ck_assert_double_eq_tol(value(&c, "arc_energy"), (0.504 * 20 + 0.75 * 75) / 95, 1e-12);
    coupon_free(&c);
}
END_TEST

START_TEST(set_up_values_stand_in)
{
    struct coupon c;

    coupon_init(&c);
    ck_assert(isnan(value(&c, "arc_energy")));
    number(&c, "volts", 20);
    number(&c, "amps", 300);
    number(&c, "travel_speed", 150);
    ck_assert_double_eq_tol(value(&c, "arc_energy"), 2.4, 1e-12);
    ck_assert(isnan(value(&c, "heat_input"))); /* no process, no k */
    coupon_set_category(&c, "process", "141 TIG");
    ck_assert_double_eq_tol(value(&c, "heat_input"), 1.44, 1e-12);
    number(&c, "heat_input", 9); /* entered: stands */
    ck_assert_double_eq_tol(value(&c, "heat_input"), 9, 1e-12);
    coupon_free(&c);
}
END_TEST

/* Thin formula at T₀ 20 with Q 0.5016, d 5, F2 0.56: [calc] 4214·10⁵·(Q/d)²·(1/480² − 1/780²)·0.56.
 */
START_TEST(cooling_of_the_tee)
{
    double q = 0.5016 / 5;
    struct coupon c;

    make_tee(&c);
    ck_assert_double_eq_tol(value(&c, "t85"),
                            4214e5 * q * q * (1 / 480.0 / 480 - 1 / 780.0 / 780) * 0.56, 1e-9);
    c.passes[0].start_c = 150;
    ck_assert(value(&c, "t85") > 10);
    coupon_free(&c);
}
END_TEST

START_TEST(bend_results_keep_at_least)
{
    struct coupon c;
    struct measure m;

    make_tee(&c);
    ck_assert_int_eq(coupon_measure(&c, "bend_angle").kind, MEASURE_MISSING);
    c.bend.before_deg = 90;
    c.bend.after_deg = 180;
    c.bend.load_n = 500;
    c.bend.lever_mm = 200;
    ck_assert_int_eq(coupon_measure(&c, "bend_angle").kind, MEASURE_MISSING); /* not folded yet */
    ck_assert_int_eq(coupon_measure(&c, "peak_moment").kind, MEASURE_MISSING);
    ck_assert_int_eq(coupon_measure(&c, "first_crack_angle").kind, MEASURE_MISSING);
    c.bend.end = BEND_HELD;
    m = coupon_measure(&c, "bend_angle");
    ck_assert_int_eq(m.kind, MEASURE_AT_LEAST);
    ck_assert_double_eq(m.low, 90);
    m = coupon_measure(&c, "peak_moment");
    ck_assert_int_eq(m.kind, MEASURE_AT_LEAST);
    ck_assert_double_eq_tol(m.low, 100, 1e-9);
    ck_assert_int_eq(coupon_measure(&c, "first_crack_angle").kind, MEASURE_AT_LEAST);
    c.bend.end = BEND_BROKE;
    ck_assert_int_eq(coupon_measure(&c, "bend_angle").kind, MEASURE_EXACT);
    ck_assert_int_eq(coupon_measure(&c, "first_crack_angle").kind, MEASURE_AT_MOST);
    c.bend.first_crack_deg = 25;
    ck_assert_double_eq(value(&c, "first_crack_angle"), 25);
    c.bend.load_n = 0;
    ck_assert_int_eq(coupon_measure(&c, "peak_moment").kind, MEASURE_MISSING);
    c.bend.first_crack_deg = c.bend.after_deg = NAN;
    ck_assert_int_eq(coupon_measure(&c, "first_crack_angle").kind, MEASURE_MISSING);
    coupon_free(&c);
}
END_TEST

/* Legs of 60 mm: gap √2·60 is 90°, gap 60 is 60°; without the angle before, a tee starts at 90°. */
START_TEST(angles_from_gaps)
{
    struct coupon c;

    make_tee(&c);
    c.bend.end = BEND_TORE;
    c.bend.leg_mm = 60;
    c.bend.after_gap_mm = 60;
    ck_assert_double_eq_tol(value(&c, "bend_angle"), 30, 1e-9);
    c.bend.before_gap_mm = 60 * sqrt(2);
    ck_assert_double_eq_tol(value(&c, "bend_angle"), 30, 1e-9);
    coupon_unset(&c, "joint");
    c.bend.before_gap_mm = NAN;
    ck_assert(isnan(value(&c, "bend_angle")));
    coupon_free(&c);
}
END_TEST

/* Bead 100: 0–12 and 10–20 overlap, 20–25 touches, 60–70 apart; a pore does not count; 95–120 is
 * cut to the bead: 25 + 10 + 5 = 40 unfused. */
START_TEST(unfused_stretches_are_joined)
{
    struct coupon c;

    make_tee(&c);
    c.bead_mm = 100;
    add_flaw(&c, 60, 70, 4013);
    add_flaw(&c, 10, 20, 401);
    add_flaw(&c, 0, 12, 4013);
    add_flaw(&c, 20, 25, 4021);
    add_flaw(&c, 30, 55, 2011);
    add_flaw(&c, 95, 120, 401);
    ck_assert(isnan(value(&c, "fused_share"))); /* the face was not read */
    c.face_read = true;
    ck_assert_double_eq_tol(value(&c, "fused_share"), 60, 1e-9);
    ck_assert_double_eq_tol(value(&c, "longest_unfused"), 25, 1e-9);
    ck_assert_double_eq_tol(value(&c, "unfused_at_start"), 25, 1e-9);
    coupon_free(&c);
}
END_TEST

START_TEST(a_clean_face)
{
    struct coupon c;

    make_tee(&c);
    c.bead_mm = 100;
    c.face_read = true;
    ck_assert_double_eq(value(&c, "fused_share"), 100);
    ck_assert_double_eq(value(&c, "longest_unfused"), 0);
    add_flaw(&c, 5, 20, 401);
    ck_assert_double_eq(value(&c, "unfused_at_start"), 0);
    coupon_free(&c);
}
END_TEST

/* Half a millimetre, as a rule is read, still is the start. */
START_TEST(the_start_is_as_wide_as_a_reading)
{
    struct coupon c;

    make_tee(&c);
    c.bead_mm = 100;
    c.face_read = true;
    add_flaw(&c, 0.5, 8, 401);
    ck_assert_double_eq(value(&c, "unfused_at_start"), 8);
    c.flaws[0].from_mm = 0.6;
    ck_assert_double_eq(value(&c, "unfused_at_start"), 0);
    coupon_free(&c);
}
END_TEST

/* Arc 20 + 25 s; wire at 6 m/min for 45 s: 4.5 m. One pass has no mean to speak of. */
START_TEST(arc_time_and_wire_of_the_card)
{
    struct coupon_figures f;
    struct coupon c;
    bool mean = false;

    make_tee(&c);
    number(&c, "wire_feed_speed", 6000);
    coupon_figures(&c, UNITS_METRIC, &f);
    ck_assert_double_eq_tol(find_figure(&f, 0, "arc_time_s")->value, 45, 1e-9);
    ck_assert_double_eq_tol(find_figure(&f, 0, "coupon_wire_m")->value, 4.5, 1e-9);
    for (size_t i = 0; i < f.note_count; i++)
        mean = mean || strstr(f.notes[i], "mean heat input") != NULL;
    ck_assert(mean);
    coupon_figures_free(&f);
    c.pass_count = 1;
    coupon_figures(&c, UNITS_METRIC, &f);
    for (size_t i = 0; i < f.note_count; i++)
        ck_assert_ptr_null(strstr(f.notes[i], "mean heat input"));
    coupon_figures_free(&f);
    c.pass_count = 2;
    coupon_free(&c);
}
END_TEST

START_TEST(an_entered_value_stands)
{
    const struct variable speed = {.key = "travel_speed", .dimension = DIM_SPEED};
    char shown[64];
    struct coupon c;

    make_tee(&c); /* 200 mm in 45 s */
    ck_assert_double_eq_tol(value(&c, "travel_speed"), 60 * 200 / 45.0, 1e-9);
    coupon_show(shown, sizeof shown, &c, &speed, UNITS_METRIC);
    ck_assert_str_eq(shown, "267 mm/min");
    coupon_set_number(&c, "travel_speed", measure_exact(300), "30 cm/min");
    ck_assert_double_eq(value(&c, "travel_speed"), 300);
    coupon_show(shown, sizeof shown, &c, &speed, UNITS_METRIC);
    ck_assert_str_eq(shown, "30 cm/min (300 mm/min)");
    /* an entered word is no number */
    coupon_set_category(&c, "passes", "several");
    ck_assert_double_eq(value(&c, "passes"), 2);
    /* what is neither entered nor follows */
    ck_assert_int_eq(coupon_measure(&c, "volts").kind, MEASURE_MISSING);
    ck_assert_int_eq(coupon_measure(&c, "joint").kind, MEASURE_MISSING);
    coupon_free(&c);
}
END_TEST

static const struct calc_figure *card_figure(const struct coupon_figures *f, int pass,
                                             const char *key)
{
    const struct calc_figure *found = find_figure(f, pass, key);

    ck_assert_msg(found != NULL, "no %s for pass %d", key, pass);
    return found;
}

/* The same tee by hand: hinge 480·(4²/2)/(250·5²) = 0.6144; arc 20 + 25 s of 600. */
START_TEST(figures_of_the_card)
{
    struct coupon_figures f;
    struct coupon c;

    make_tee(&c);
    c.bend.end = BEND_HELD;
    c.bend.after_deg = 180;
    coupon_figures(&c, UNITS_METRIC, &f);
    ck_assert_double_eq_tol(card_figure(&f, 1, "arc_energy_kj_per_mm")->value, 0.504, 1e-12);
    ck_assert_double_eq_tol(card_figure(&f, 2, "heat_input_kj_per_mm")->value, 0.6, 1e-12);
    ck_assert_double_eq_tol(card_figure(&f, 2, "travel_speed_mm_per_min")->value, 240, 1e-9);
    /* ± of pass 1: 0.5 of 18 V, 2 % of 140 A, 0.5 of 100 mm, 0.2 of 20 s */
    ck_assert_double_eq_tol(card_figure(&f, 1, "arc_energy_kj_per_mm")->error / 0.504,
                            sqrt(pow(0.5 / 18, 2) + pow(0.02, 2) + pow(0.005, 2) + pow(0.01, 2)),
                            1e-5);
    ck_assert_double_eq_tol(card_figure(&f, 0, "weld_to_plate")->value, 0.6144, 1e-9);
    ck_assert_double_eq_tol(card_figure(&f, 0, "throat_mm")->value, 4 / sqrt(2), 1e-12);
    ck_assert_double_eq_tol(card_figure(&f, 0, "t85_s")->value, value(&c, "t85"), 1e-9);
    ck_assert_double_eq_tol(card_figure(&f, 0, "duty_used_pct")->value, 7.5, 1e-12);
    ck_assert_double_eq_tol(card_figure(&f, 0, "bend_angle_deg")->value, 90, 1e-12);
    ck_assert_int_eq(strncmp(card_figure(&f, 0, "bend_angle_deg")->shown, "at least 90", 11), 0);
    ck_assert_uint_gt(f.note_count, 0);
    ck_assert_ptr_null(find_figure(&f, 0, "area_mm2")); /* calc alone shows these */
    ck_assert_ptr_null(find_figure(&f, 1, "efficiency_k"));
    ck_assert_ptr_null(find_figure(&f, 0, "outer_strain_pct")); /* no former said */
    coupon_figures_free(&f);
    c.passes[1].pause_s = NAN; /* no clock without it */
    coupon_figures(&c, UNITS_METRIC, &f);
    ck_assert_ptr_null(find_figure(&f, 0, "duty_used_pct"));
    coupon_figures_free(&f);
    c.passes[1].pause_s = 0;
    c.passes[1].arc_s = NAN;
    coupon_figures(&c, UNITS_METRIC, &f);
    ck_assert_ptr_null(find_figure(&f, 0, "duty_used_pct"));
    coupon_figures_free(&f);
    coupon_free(&c);
}
END_TEST

/* A card with nothing on it makes no figures and asks no questions. */
START_TEST(an_empty_card)
{
    struct coupon_figures f;
    struct coupon c;

    coupon_init(&c);
    coupon_figures(&c, UNITS_INCH, &f);
    ck_assert_uint_eq(f.count, 0);
    ck_assert_uint_eq(f.note_count, 0);
    coupon_figures_free(&f);
    coupon_free(&c);
}
END_TEST

static void add_folded(struct coupon_list *list, double t, double leg, enum bend_end end)
{
    struct coupon *c = coupon_list_add(list);

    make_tee(c);
    number(c, "thickness", t);
    number(c, "leg", leg);
    c->bend.end = end;
}

/* One side, root opening: fw = fy·t²/a². 3 mm with 6 mm legs held: 0.8·250·2.9²/(6/√2 + 0.354)²
 * = 79.6 at least; 6 mm with 4 mm legs broke: 1.2·250·6.1²/(4/√2 − 0.354)² = 1823 at most [calc].
 */
START_TEST(strength_the_shop_reaches)
{
    struct coupon_list list = {0};
    struct hinge_fit fit;
    char said[200];

    fit = strength_reached(&list);
    strength_sentence(said, sizeof said, &fit, UNITS_METRIC);
    ck_assert_str_eq(said, "");
    add_folded(&list, 3, 6, BEND_HELD);
    add_folded(&list, 6, 4, BEND_BROKE);
    add_folded(&list, 6, 4, BEND_NOT_DONE);
    fit = strength_reached(&list);
    ck_assert_double_eq_tol(fit.at_least.v, 79.6, 0.05);
    ck_assert_double_eq_tol(fit.at_most.v, 1823, 1);
    strength_sentence(said, sizeof said, &fit, UNITS_METRIC);
    ck_assert_ptr_nonnull(strstr(said, "1 held and 1 broken"));
    ck_assert_ptr_nonnull(strstr(said, "at least 80 MPa and at most 1823 MPa"));
    /* a gauge: 900 N on 200 mm over 100 mm of bead is 1800 N·mm/mm on a²/4 = 2 mm² */
    list.items[1].bend.load_n = 900;
    list.items[1].bend.lever_mm = 200;
    list.items[1].bead_mm = 100;
    fit = strength_reached(&list);
    ck_assert(fit.at_least.v < 900 && fit.at_most.v > 900);
    ck_assert(fit.at_most.v < 1250);
    coupon_list_free(&list);
}
END_TEST

/* EN 10025 names the yield in MPa; A36 is 36 ksi; 70 ksi of weld metal is 480 MPa. */
START_TEST(strengths_by_name)
{
    ck_assert_double_eq(strength_yield_of("S235JR"), 235);
    ck_assert_double_eq(strength_yield_of("S275"), 275);
    ck_assert_double_eq(strength_yield_of("S355J2"), 355);
    ck_assert_double_eq(strength_yield_of("A36"), 250);
    ck_assert(isnan(strength_yield_of("304L")));
    ck_assert(isnan(strength_yield_of(NULL)));
    ck_assert_double_eq(strength_weld_of("ER70S-6"), 480);
    ck_assert_double_eq(strength_weld_of("E71T-1"), 480);
    ck_assert_double_eq(strength_weld_of("E7018"), 480);
    ck_assert_double_eq(strength_weld_of("E6013"), 430);
    ck_assert_double_eq(strength_weld_of("G 42 4 M21 3Si1"), 500);
    ck_assert(isnan(strength_weld_of("ER308L")));
}
END_TEST

/* Each of these alone keeps a coupon out: another joint, struck out, not folded, a size unknown. */
START_TEST(coupons_that_say_nothing_of_strength)
{
    struct coupon_list list = {0};
    struct coupon *c;

    for (size_t i = 0; i < 6; i++)
        add_folded(&list, 3, 6, BEND_HELD);
    coupon_set_category(&list.items[0], "joint", "butt");
    list.items[1].bend.end = BEND_NOT_DONE;
    coupon_unset(&list.items[2], "leg");
    coupon_unset(&list.items[3], "thickness");
    ck_assert_uint_eq(strength_reached(&list).held, 2);
    ck_assert_uint_eq(strength_reached(&list).left_out, 2); /* folded tees without a size */
    c = &list.items[4];
    c->struck_why = strdup("mixed up");
    ck_assert_uint_eq(strength_reached(&list).held, 1);
    free(c->struck_why);
    c->struck_why = NULL;
    /* 0.8·355·2.9²/(6/√2 + 0.5/√2)² = 113.06 where the steel is known */
    coupon_set_category(c, "base_metal", "S355");
    ck_assert_double_eq_tol(strength_reached(&list).at_least.v,
                            0.8 * 355 * 2.9 * 2.9 / (6.5 * 6.5 / 2), 1e-9);
    coupon_list_free(&list);
}
END_TEST

static const char *said_of(const struct hinge_fit *fit)
{
    static char said[200];

    strength_sentence(said, sizeof said, fit, UNITS_METRIC);
    return said;
}

START_TEST(a_bound_is_said_alone)
{
    struct hinge_fit fit = {.at_least = {80}, .at_most = {INFINITY}, .held = 2};

    ck_assert_str_eq(said_of(&fit), "2 held and 0 broken tee coupons: the weld reaches at least 80 "
                                    "MPa on its measured throat.");
    fit.at_least.v = 0.5;
    ck_assert_ptr_nonnull(strstr(said_of(&fit), "reaches at least "));
    fit = (struct hinge_fit){.at_most = {500}, .broke = 3};
    ck_assert_str_eq(said_of(&fit), "0 held and 3 broken tee coupons: the weld reaches at most 500 "
                                    "MPa on its measured throat.");
    fit = (struct hinge_fit){{600}, {500}, 1, 2, 0, true};
    ck_assert_str_eq(said_of(&fit),
                     "1 held and 2 broken tee coupons contradict each other: some weld reached 600 "
                     "MPa, another gave way at 500 MPa. They scatter more than their readings do.");
}
END_TEST

/* A pass's own wire feed comes first: 4 m/min for 20 s and 6 m/min for 25 s are 3.833 m. A pass
 * without arc time leaves no sum. */
START_TEST(sums_over_passes)
{
    struct coupon_figures f;
    struct coupon c;

    make_tee(&c);
    number(&c, "wire_feed_speed", 6000);
    c.passes[0].feed_mm_per_min = 4000;
    coupon_figures(&c, UNITS_METRIC, &f);
    ck_assert_double_eq_tol(card_figure(&f, 0, "arc_time_s")->value, 45, 1e-12);
    ck_assert_double_eq_tol(card_figure(&f, 0, "coupon_wire_m")->value, 4 / 3.0 + 2.5, 1e-12);
    coupon_figures_free(&f);
    c.passes[0].arc_s = NAN;
    coupon_figures(&c, UNITS_METRIC, &f);
    ck_assert_ptr_null(find_figure(&f, 0, "arc_time_s"));
    ck_assert_ptr_null(find_figure(&f, 0, "coupon_wire_m"));
    coupon_figures_free(&f);
    coupon_free(&c);
}
END_TEST

/* Without a length or a time on every pass they count alike: (0.504 + 0.75)/2; the travel speed is
 * that of the passes that have both, one with a length or a time of 0 has neither. */
START_TEST(passes_count_alike_without_lengths)
{
    struct coupon c;

    make_tee(&c);
    number(&c, "travel_speed", 300); /* 18 V 140 A at 5 mm/s 0.504, 20 V 150 A 0.6 */
    c.passes[0].length_mm = 0;
    c.passes[1].arc_s = 0;
    ck_assert_double_eq_tol(value(&c, "arc_energy"), (0.504 + 0.6) / 2, 1e-12);
    coupon_unset(&c, "travel_speed");
    ck_assert(isnan(value(&c, "travel_speed")));
    c.passes[1].arc_s = 25;
    ck_assert_double_eq_tol(value(&c, "travel_speed"), 240, 1e-9);
    coupon_free(&c);
}
END_TEST

/* Two legs: 3 and 4 mm give a throat of 2.4 mm, a corner starts at 90°, a butt at 180°. */
START_TEST(two_legs_and_the_angle_before)
{
    struct coupon c;

    make_tee(&c);
    number(&c, "leg", 3);
    number(&c, "leg_2", 4);
    ck_assert_double_eq_tol(value(&c, "throat_ratio"), 2.4 / 5, 1e-12);
    coupon_set_category(&c, "joint", "corner");
    ck_assert_double_eq(coupon_included_before(&c), 90);
    coupon_set_category(&c, "joint", "butt");
    ck_assert_double_eq(coupon_included_before(&c), 180);
    ck_assert_str_eq(coupon_cooling_joint(&c), "butt");
    coupon_set_category(&c, "joint", "lap");
    ck_assert_str_eq(coupon_cooling_joint(&c), "tee");
    coupon_set_category(&c, "joint", "edge");
    ck_assert_str_eq(coupon_cooling_joint(&c), "plate");
    coupon_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("derived/derived");
    TCase *t = tcase_create("derived");

    tcase_add_test(t, passes_are_averaged_never_added);
    tcase_add_test(t, weights_of_the_mean);
    tcase_add_test(t, set_up_values_stand_in);
    tcase_add_test(t, cooling_of_the_tee);
    tcase_add_test(t, bend_results_keep_at_least);
    tcase_add_test(t, angles_from_gaps);
    tcase_add_test(t, unfused_stretches_are_joined);
    tcase_add_test(t, a_clean_face);
    tcase_add_test(t, the_start_is_as_wide_as_a_reading);
    tcase_add_test(t, arc_time_and_wire_of_the_card);
    tcase_add_test(t, an_entered_value_stands);
    tcase_add_test(t, figures_of_the_card);
    tcase_add_test(t, an_empty_card);
    tcase_add_test(t, strength_the_shop_reaches);
    tcase_add_test(t, strengths_by_name);
    tcase_add_test(t, coupons_that_say_nothing_of_strength);
    tcase_add_test(t, a_bound_is_said_alone);
    tcase_add_test(t, sums_over_passes);
    tcase_add_test(t, passes_count_alike_without_lengths);
    tcase_add_test(t, two_legs_and_the_angle_before);
    suite_add_tcase(s, t);
    return s;
}
