/* calc from the words of a command to figures and JSON. Check values and sources as in tests/weld.
 */
#include "run.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "calc/calc.h"
#include "calc/json.h"
#include "calc/page.h"

enum { ARGUMENTS = 24, LINE = 400 };

/* Runs "kind key=value|key=value"; the parts of `line` are divided by bars. */
static int run(const char *line, enum unit_system units, struct calc_answer *a, struct error *e)
{
    char work[LINE], *parts[ARGUMENTS], *save = NULL, *part;
    size_t n = 0;

    ck_assert_uint_lt(strlen(line), sizeof work);
    strcpy(work, line);
    for (part = strtok_r(work, "|", &save); part != NULL; part = strtok_r(NULL, "|", &save))
        parts[n++] = part;
    return calc_run(parts[0], n - 1, parts + 1, units, a, e);
}

/* One figure of a run that must work; NAN when it is not there or null. */
static double figure(const char *line, const char *key)
{
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;
    double value;

    ck_assert_msg(run(line, UNITS_METRIC, &a, &e) == 0, "%s: %s", line, e.text);
    f = calc_figure_find(&a, key);
    value = f == NULL ? NAN : f->value;
    calc_answer_free(&a);
    return value;
}

struct check {
    const char *line, *key;
    double value, tolerance;
};

static const struct check checks[] = {
    /* published: exercise in metric; formula of AWS D1.5 p. 89 [calc]; article and school text in
       inch */
    {"heat|volts=20|amps=300|speed=2.5mm/s", "arc_energy_kj_per_mm", 2.4, 1e-12},
    {"heat|volts=30|amps=330|length=24in|time=93s", "arc_energy_kj_per_in", 38.36, 5e-3},
    {"heat|volts=29|amps=325|length=25in|time=2min", "arc_energy_kj_per_in", 45.24, 5e-3},
    {"heat|volts=29|amps=325|length=25in|time=2min", "travel_speed_in_per_min", 12.5, 1e-9},
    {"heat|volts=39V|amps=425A|length=35 in|time=4:00", "arc_energy_kj_per_in", 113.65, 1e-2},
    {"heat|volts=24|amps=120|speed=10ipm", "heat_input_aws_kj_per_in", 17.28, 1e-9},
    {"heat|volts=27|amps=222|speed=300|process=111", "heat_input_kj_per_mm", 0.9590, 5e-5},
    {"heat|volts=27|amps=222|speed=300|process=141", "efficiency_k", 0.6, 1e-12},
    {"heat|energy=240|length=100|process=135", "heat_input_kj_per_mm", 1.92, 1e-12},
    {"heat|power=6kW|speed=150", "arc_energy_kj_per_mm", 2.4, 1e-12},
    {"heat|power=0.5|speed=150", "arc_energy_kj_per_mm", 0.2, 1e-12},
    {"hinge|thickness=6|leg=6|yield=250|weld_strength=0.5", "weld_to_plate", 0.001, 1e-9},
    /* 58·100 + 57·3 = 5971 fits into 6 m, 59·100 + 58·3 = 6074 does not; the last piece of a bar
       needs no cut behind it, in inch as in metric */
    {"stock|coupons=60|piece=100|kerf=3|bar=6000", "pieces_per_bar_count", 58, 1e-12},
    {"stock|coupons=60|piece=100|kerf=3|bar=6000", "bars_count", 2, 1e-12},
    {"stock|coupons=60|piece=100|kerf=3|bar=6000", "stock_mm", 5971 + 2 * 100 + 3, 1e-9},
    {"stock|coupons=60|piece=100|kerf=3|bar=6000", "left_mm", 6000 - 203 - 3, 1e-9},
    {"stock|coupons=60|piece=100|width=50|thickness=5", "stock_mass_kg", 11.750115, 1e-5},
    {"stock|coupons=3|piece=100|kerf=5|bar=310", "pieces_per_bar_count", 3, 1e-12},
    {"stock|coupons=3|piece=100|kerf=5|bar=309.9", "pieces_per_bar_count", 2, 1e-12},
    {"stock|coupons=3|piece=100|kerf=5|bar=330|ends=20", "pieces_per_bar_count", 3, 1e-12},
    {"stock|coupons=3|piece=4in|kerf=0.1in|bar=12.2in", "pieces_per_bar_count", 3, 1e-12},
    {"stock|coupons=4|piece=100|kerf=0|bar=400", "pieces_per_bar_count", 4, 1e-12},
    {"stock|coupons=3|piece=300|bar=300", "pieces_per_bar_count", 1, 1e-12},
    {"stock|coupons=3|piece=300|bar=299.9", "pieces_per_bar_count", NAN, 1e-12},
    /* short by a billionth of its length, and by two */
    {"stock|coupons=3|piece=1|kerf=0|bar=0.999999999", "pieces_per_bar_count", 1, 1e-12},
    {"stock|coupons=3|piece=1|kerf=0|bar=0.999999998", "pieces_per_bar_count", NAN, 0},
    {"stock|coupons=3|piece=0", "pieces_per_bar_count", NAN, 1e-12},
    {"stock|coupons=1000000|piece=1|kerf=0|bar=1000m", "bars_count", 1, 1e-12},
    {"stock|coupons=3|piece=1|kerf=0|bar=1000001mm", "bars_count", NAN, 1e-12},
    {"stock|coupons=2|piece=100|kerf=3|bar=203", "left_mm", 0, 1e-9},
    {"stock|coupons=0|piece=100", "bars_count", 0, 1e-12},
    {"stock|coupons=0|piece=100", "stock_mm", 0, 1e-12},
    {"stock|coupons=1|piece=100|kerf=3|bar=6000", "left_mm", 5897, 1e-9},
    {"stock|coupons=0|piece=100|kerf=3|bar=6000", "left_mm", 0, 1e-12},
    {"heat|energy=1e9|length=1", "arc_energy_kj_per_mm", 1e9, 1e-3},
    {"heat|volts=5|amps=5|speed=5", "arc_energy_kj_per_mm", 0.3, 1e-12},
    {"heat|volts=60|amps=1000|speed=3000", "arc_energy_kj_per_mm", 1.2, 1e-12},
    /* EN 1011-2 Annex D [calc] */
    {"cooling|heat_input=1.0|preheat=20|thickness=20", "t85_s", 5.288, 5e-4},
    {"cooling|heat_input=0.5|thickness=6", "t85_s", 7.891, 5e-4},
    {"cooling|heat_input=0.5|thickness=6", "transition_mm", 10.365, 5e-4},
    {"cooling|heat_input=0.5|preheat=302F|thickness=6", "t85_s", 14.712, 5e-4},
    {"cooling|heat_input=2|thickness=60|joint=tee", "t85_s", 2 * 5.288461538 * 0.67, 1e-6},
    /* EN 1011-2 Annex C, Ito & Bessyo [calc]; floor girder exercise CE-331 */
    {"carbon|C=.25|Mn=1.20|Si=.40", "ce_iiw", 0.45, 1e-12},
    {"carbon|C=.25|Mn=1.20|Si=.40", "pcm", 0.3233, 5e-5},
    {"carbon|C=.25%|Mn=1.20%|Si=.40", "cet", 0.37, 1e-12},
    {"carbon|c=0.17|cu=0.21|mn=0.9|cr=0.11|mo=0.25|ni=0.23|v=0.09|si=0.25", "ce_iiw", 0.439, 5e-4},
    {"preheat|cet=.305|thickness=10|hydrogen=5|heat_input=1.0", "preheat_c", 22.16, 5e-3},
    {"preheat|cet=.33|thickness=20|hydrogen=5|heat_input=25.4kJ/in", "preheat_c", 79.03, 5e-3},
    {"preheat|cet=.33|thickness=20|hydrogen=5|heat_input=1", "preheat_f", 174.25, 1e-2},
    /* filler metal handbook p. 8-1; 3-4-5 triangle */
    {"fillet|leg=1/2in", "mass_lb_per_ft", 0.424, 1e-3},
    {"fillet|leg=1/2", "throat_in", 0.35355, 5e-6},
    {"fillet|leg=6|thickness=0", "throat_to_thickness", NAN, 0},
    {"fillet|leg=6|length=0", "weld_mass_kg", 0, 1e-12},
    {"fillet|leg=6|length=200", "weld_mass_kg", 18 * 200 * 7833.4e-9, 1e-6},
    {"fillet|leg=6", "weld_mass_kg", NAN, 0},
    {"fillet|leg1=6|leg2=8", "throat_mm", 4.8, 1e-12},
    {"fillet|leg1=6|leg2=8", "area_mm2", 24, 1e-12},
    {"fillet|leg=6|thickness=6", "throat_to_thickness", 0.7071, 5e-5},
    /* hinges [calc]; coupon: 250·3.9²/(6/√2 + 0.5/√2)² */
    {"hinge|thickness=6|leg=6|yield=250|weld_strength=480", "weld_to_plate", 0.96, 1e-9},
    {"hinge|thickness=6|leg=4|yield=250|weld_strength=480", "weld_to_plate", 0.427, 5e-4},
    {"hinge|thickness=6|leg=6|sides=2|yield=250|weld_strength=480", "weld_to_plate", 5.76, 1e-9},
    {"hinge|thickness=6|leg=6|opening=face|yield=250|weld_strength=480", "weld_to_plate", 4.8,
     1e-9},
    {"hinge|thickness=6|throat=4.2426406871|unfused=1", "weld_to_plate", 0.5608, 5e-5},
    {"hinge|thickness=6|yield=250|weld_strength=480", "throat_needed_mm", 6 * 0.7216878, 1e-5},
    {"hinge|coupons=held 4 6", "weld_strength_at_least_mpa", 180.0, 0.05},
    /* ASME IX QW-466.1; ISO 7438; Kalpakjian & Schmid [mem] */
    {"bend|thickness=6|former=24", "outer_strain_pct", 20, 1e-12},
    {"bend|thickness=3/8|former=1-1/2", "outer_strain_pct", 20, 1e-12},
    {"bend|thickness=6|radius=6", "outer_strain_pct", 33.333, 1e-3},
    {"bend|gap=50|leg=50", "bend_angle_deg", 120, 1e-9},
    {"bend|before=90|after=30", "bend_angle_deg", 60, 1e-12},
    {"bend|radius=12|thickness=6|yield=250", "springback_ratio", 0.99268, 5e-6},
    {"bend|gauge_before=1in|gauge_after=1.15in", "free_bend_elongation_pct", 15, 1e-9},
    /* deposition with the exact constant; MIG handbook p. 7-10 within 1.2 % */
    {"wire|diameter=.052in|feed=320in/min|efficiency=.98", "deposition_lb_per_h", 11.3086, 5e-4},
    {"wire|diameter=.035in|feed=300ipm|efficiency=98%", "wire_in_per_lb", 3648, 0.012 * 3648},
    {"wire|diameter=1|feed=10|efficiency=0.9|speed=500", "bead_area_mm2", 14.137, 5e-4},
    {"wire|run_out=25in|time=6s", "feed_in_per_min", 250, 1e-9},
    {"wire|kind=cored|grams_per_metre=7|feed=8|efficiency=.86", "deposition_kg_per_h", 2.8896,
     1e-9},
    {"wire|table=2: 4; 4: 8|dial=3", "feed_m_per_min", 6, 1e-12},
    /* manual 0-2510 p. 21; 40 % of ten minutes */
    {"duty|rated=25|rated_amps=400|amps=282.8", "duty_pct", 50, 0.02},
    {"wire|diameter=1|feed=6|efficiency=1", "efficiency_pct", 100, 1e-12},
    {"fillet|leg=5±1e13", "throat_mm", NAN, 0}, /* a ± beyond all measure */
    {"duty|log=0:00-4:00", "duty_pct", 40, 1e-12},
    {"duty|log=120/60,120/60,60", "duty_used_pct", 50, 1e-12},
    {"stock|coupons=30|members=2|piece=100|kerf=3|bar=6m", "bars_count", 2, 1e-12},
};

START_TEST(check_values)
{
    const struct check *c = &checks[_i];

    if (isnan(c->value))
        ck_assert(isnan(figure(c->line, c->key)));
    else
        ck_assert_double_eq_tol(figure(c->line, c->key), c->value, c->tolerance);
}
END_TEST

/* However it is cut, the bars hold what was asked for, and one bar less would not. */
START_TEST(bars_are_enough_and_no_more)
{
    for (int n = 1; n < 200; n += 7) {
        char line[LINE];
        double bars, per_bar;

        snprintf(line, sizeof line, "stock|coupons=%d|piece=83|kerf=2.5|bar=2000|ends=15", n);
        bars = figure(line, "bars_count");
        per_bar = figure(line, "pieces_per_bar_count");
        ck_assert(bars * per_bar >= n && (bars - 1) * per_bar < n);
        ck_assert_double_eq_tol(figure(line, "stock_mm"), 83 * n + 2.5 * (n - bars), 1e-9);
        ck_assert(figure(line, "left_mm") >= 0);
    }
}
END_TEST

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

/* Those that could be taken for permission carry the cautions. */
START_TEST(which_kinds_carry_the_cautions)
{
    static const char *const with[] = {"cooling", "preheat", "hinge", "bend", "duty"};
    size_t found = 0;

    for (size_t i = 0; i < sizeof with / sizeof *with; i++)
        ck_assert_msg(calc_kind_find(with[i])->permission, "%s", with[i]);
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        found += calc_kind_at(i)->permission;
    ck_assert_uint_eq(found, sizeof with / sizeof *with);
}
END_TEST

/* A cell of the page's table, by the first cell of its row; NULL when there is no such row. */
static const char *cell(const struct page *p, const char *first, size_t column)
{
    for (size_t i = 0; i < p->count; i++)
        for (size_t row = 0; row < p->blocks[i].row_count; row++)
            if (strcmp(p->blocks[i].rows[row].cells[0], first) == 0)
                return p->blocks[i].rows[row].cells[column];
    return NULL;
}

static size_t blocks_of(const struct page *p, enum block_kind kind)
{
    size_t n = 0;

    for (size_t i = 0; i < p->count; i++)
        n += p->blocks[i].kind == kind;
    return n;
}

START_TEST(pages_of_kinds)
{
    struct page p = {0};

    calc_kinds_page(&p);
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        ck_assert_str_eq(cell(&p, calc_kind_at(i)->name, 1), calc_kind_at(i)->summary);
    page_free(&p);
    calc_kind_page(&calc_wire, &p);
    ck_assert_str_eq(cell(&p, "diameter", 1), "in mm");
    ck_assert_str_eq(cell(&p, "feed", 1), "in m/min");
    ck_assert_str_eq(cell(&p, "time", 1), "in s; 6 s if not said");
    ck_assert_str_eq(cell(&p, "kind", 1), "solid|cored; solid if not said");
    ck_assert_str_eq(cell(&p, "efficiency", 1), ""); /* a share of one or % */
    ck_assert_str_eq(cell(&p, "process", 1), "");
    ck_assert_str_eq(cell(&p, "dial", 1), "");
    page_free(&p);
    calc_kind_page(&calc_carbon, &p);
    ck_assert_str_eq(cell(&p, "C", 1), "in %");
    page_free(&p);
}
END_TEST

/* A verdict alone has no figures, so nothing it is worked out by. */
START_TEST(pages_of_answers)
{
    struct calc_answer a;
    struct error e;
    struct page p = {0};

    ck_assert_int_eq(run("bend|flaws=3", UNITS_METRIC, &a, &e), 0);
    calc_answer_page(&a, &p);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_TABLE), 0);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_HEADING), 0);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_ANSWER), 1);
    calc_answer_free(&a);
    page_free(&p);
    ck_assert_int_eq(run("fillet|leg=6±0", UNITS_METRIC, &a, &e), 0);
    calc_answer_page(&a, &p);
    ck_assert_str_eq(cell(&p, "Throat", 1), "4.24 mm");
    ck_assert_uint_eq(blocks_of(&p, BLOCK_HEADING), 1);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_ANSWER), 0);
    calc_answer_free(&a);
    page_free(&p);
}
END_TEST

/* The same case written in inch and in metric. */
START_TEST(inch_and_metric_agree)
{
    static const char *const pairs[][3] = {
        {"heat|volts=22|amps=180|speed=254|process=135",
         "heat|volts=22|amps=180|speed=10in/min|process=135", "heat_input_kj_per_mm"},
        {"cooling|heat_input=0.8|preheat=100|thickness=12.7",
         "cooling|heat_input=20.32kJ/in|preheat=212F|thickness=0.5in", "t85_s"},
        {"preheat|cet=.3|thickness=25.4|hydrogen=5|heat_input=1",
         "preheat|cet=.3|thickness=1in|hydrogen=5|heat_input=25.4kJ/in", "preheat_c"},
        {"fillet|leg1=6.35|leg2=9.525", "fillet|leg1=1/4in|leg2=3/8in", "mass_lb_per_ft"},
        {"hinge|thickness=7.9375|leg=6.35", "hinge|thickness=5/16in|leg=1/4in", "weld_to_plate"},
        {"bend|thickness=7.9375|radius=12.7", "bend|thickness=5/16in|radius=1/2in",
         "outer_strain_pct"},
        {"wire|diameter=1.143|feed=6.35|efficiency=0.9|speed=254",
         "wire|diameter=.045in|feed=250ipm|efficiency=0.9|speed=10ipm", "bead_area_mm2"},
    };
    size_t i;

    for (i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        double metric = figure(pairs[i][0], pairs[i][2]), inch = figure(pairs[i][1], pairs[i][2]);

        ck_assert_msg(fabs(metric - inch) <= 1e-12 * fabs(metric), "%s: %.17g, %.17g", pairs[i][2],
                      metric, inch);
    }
}
END_TEST

/* A bare number takes the unit of its row in either book; only what is shown differs. */
START_TEST(the_book_changes_what_is_shown_only)
{
    struct calc_answer metric, inch;
    struct error e;

    ck_assert_int_eq(run("fillet|leg=6±0", UNITS_METRIC, &metric, &e), 0);
    ck_assert_int_eq(run("fillet|leg=6±0", UNITS_INCH, &inch, &e), 0);
    ck_assert_double_eq(calc_figure_find(&metric, "throat_mm")->value,
                        calc_figure_find(&inch, "throat_mm")->value);
    ck_assert_str_eq(calc_figure_find(&metric, "throat_mm")->shown, "4.24 mm");
    ck_assert_str_eq(calc_figure_find(&inch, "throat_mm")->shown, "0.167 in");
    calc_answer_free(&metric);
    calc_answer_free(&inch);
}
END_TEST

/* Statutory (United States standard) gauge has 10 ga at 0.1406 in; sheet steel is sold by the
 * manufacturers' standard, 0.1345 in. */
START_TEST(gauge_is_the_manufacturers_standard)
{
    double throat = figure("hinge|thickness=10ga|ratio=1", "throat_needed_in");

    ck_assert_double_eq_tol(throat, 0.1345 * sqrt(250 / 480.0), 1e-4);
    ck_assert(fabs(throat - 0.1406 * sqrt(250 / 480.0)) > 3e-3);
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

START_TEST(outside_the_range_is_an_answer)
{
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;

    ck_assert_int_eq(
        run("preheat|cet=.3|thickness=6|hydrogen=5|heat_input=1", UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "preheat_c");
    ck_assert(isnan(f->value));
    ck_assert(f->outside);
    ck_assert_ptr_nonnull(strstr(f->why, "10 mm"));
    calc_answer_free(&a);
    ck_assert_int_eq(run("heat|volts=20|amps=300|speed=150", UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "heat_input_kj_per_mm");
    ck_assert(isnan(f->value) && !f->outside); /* no process: not said, not out of range */
    ck_assert_ptr_nonnull(f->why);
    calc_answer_free(&a);
    ck_assert_int_eq(run("fillet|leg=6|thickness=0", UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "throat_to_thickness");
    ck_assert(f == NULL || !f->outside); /* as if no plate had been said */
    calc_answer_free(&a);
}
END_TEST

/* A rule that ends below the plate as it lies asks for nothing: words, no figure. */
START_TEST(no_preheat_is_said_in_words)
{
    static const char none[] = "preheat|cet=.2|thickness=10|hydrogen=1|heat_input=4";
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;

    ck_assert_int_eq(run(none, UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "preheat_c");
    ck_assert(isnan(f->value) && !f->outside);
    ck_assert_str_eq(f->shown, "–");
    ck_assert_ptr_nonnull(strstr(f->why, "none is asked for"));
    ck_assert_ptr_null(strstr(f->why, "-"));
    calc_answer_free(&a);
    /* 697·0.302 + 160·tanh(10/35) + 62·5^0.35 + (53·0.302 − 32) − 328 = 19.91; at 0.3022 20.06 */
    ck_assert(isnan(figure("preheat|cet=.302|thickness=10|hydrogen=5|heat_input=1", "preheat_c")));
    ck_assert_double_eq_tol(
        figure("preheat|cet=.3022|thickness=10|hydrogen=5|heat_input=1", "preheat_c"), 20.06, 5e-3);
}
END_TEST

static bool noted(const char *line, const char *words)
{
    struct calc_answer a;
    struct error e;
    bool found = false;
    size_t i;

    ck_assert_msg(run(line, UNITS_METRIC, &a, &e) == 0, "%s: %s", line, e.text);
    for (i = 0; i < a.note_count; i++)
        found = found || strstr(a.notes[i], words) != NULL;
    calc_answer_free(&a);
    return found;
}

/* Steel is not welded under inert gas; a shop's MIG is 135; a metal-cored wire has its efficiency.
 */
START_TEST(inert_gas_is_not_for_steel)
{
    ck_assert(noted("heat|volts=20|amps=130|speed=300|process=131", "active gas"));
    ck_assert(noted("wire|diameter=0.9|feed=6|process=131", "active gas"));
    ck_assert(!noted("heat|volts=20|amps=130|speed=300|process=MIG", "active gas"));
    ck_assert(!noted("heat|volts=20|amps=130|speed=300", "active gas"));
    ck_assert_double_eq_tol(figure("wire|diameter=1.2|feed=6|process=MIG", "efficiency_pct"), 95,
                            1e-12);
    ck_assert(isnan(figure("wire|diameter=1.2|feed=6|process=131", "deposition_kg_per_h")));
    ck_assert_double_eq_tol(
        figure("wire|kind=cored|grams_per_metre=7|feed=8|process=138", "efficiency_pct"), 95,
        1e-12);
}
END_TEST

/* No figure is infinite, and one that cannot be said says why. */
START_TEST(no_figure_without_a_reason)
{
    static const char *const lines[] = {
        "heat|energy=1e300|length=1e-300|process=135",
        "heat|energy=1e300|length=1e-8±1|process=135",
        "heat|energy=0|length=10|process=135",
        "heat|energy=1e10|length=0.001|process=135",
        "heat|energy=100|length=0",
        "cooling|heat_input=1|thickness=0",
        "cooling|heat_input=1|thickness=6|preheat=600",
        "cooling|heat_input=1|thickness=6|preheat=499.9",
        "cooling|heat_input=50|thickness=6",
        "carbon|C=101",
        "fillet|leg=0",
        "hinge|thickness=6|leg=4|unfused=3",
        "bend|gap=130|leg=60",
        "bend|thickness=0|radius=3",
        "bend|thickness=6|radius=0",
        "wire|diameter=0.9|feed=6|efficiency=0",
        "wire|table=2: 4; 4: 8|dial=9",
        "duty|log=5-3",
        "duty|log=0-100,50-150",
        "stock|coupons=3|piece=9000",
    };
    size_t i, j;

    for (i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct calc_answer a;
        struct error e;
        size_t silent = 0, said = 0;

        ck_assert_msg(run(lines[i], UNITS_METRIC, &a, &e) == 0, "%s: %s", lines[i], e.text);
        for (j = 0; j < a.figure_count; j++) {
            ck_assert(!isinf(a.figures[j].value) && !isinf(a.figures[j].error));
            ck_assert_ptr_null(strstr(a.figures[j].shown, "inf"));
            silent += isnan(a.figures[j].value) && a.figures[j].why == NULL;
            said += a.figures[j].outside;
        }
        ck_assert_msg(silent == 0 && said > 0, "%s", lines[i]);
        calc_answer_free(&a);
    }
}
END_TEST

static const char *word(const struct calc_answer *a, const char *key)
{
    size_t i;

    for (i = 0; i < a->word_count; i++)
        if (strcmp(a->words[i].key, key) == 0)
            return a->words[i].text;
    return "";
}

START_TEST(verdicts_in_words)
{
    static const char *const rows[][3] = {
        {"cooling|heat_input=1|thickness=20", "regime", "thick"},
        {"cooling|heat_input=1|thickness=6", "regime", "thin"},
        {"hinge|thickness=6|leg=4", "governs", "weld"},
        {"hinge|thickness=3|leg=5", "governs", "plate"},
        {"hinge|thickness=6|leg=6", "verdict", "too close to say: within its ± of 1"},
        {"hinge|thickness=6|leg=4", "verdict", "the weld hinges and breaks at a small angle"},
        {"hinge|thickness=6|leg=6|sides=2", "verdict", "the plate folds before the weld breaks"},
        {"bend|flaws=3.0", "guided_bend", "pass"},
        {"bend|flaws=2,5", "guided_bend", "pass"},
        {"bend|flaws=2,5,2", "guided_bend", "fail"},
        {"bend|flaws=2.5,3.5", "guided_bend", "fail"},
        {"bend|corners=3 fusion", "guided_bend", "pass"},
        {"bend|corners=3.01 fusion", "guided_bend", "fail"},
        {"bend|corners=6.01 clean", "guided_bend", "new specimen"},
        {"bend|flaws=120mil", "guided_bend", "pass"},
        {"bend|flaws=0.01ft", "guided_bend", "pass"},
        {"bend|flaws=0.011ft", "guided_bend", "fail"},
        {"bend|flaws=0.31cm", "guided_bend", "fail"},
        {"bend|fused_to_root=yes|specimen=6in|pores=0.09in", "fillet_break", "pass"},
        {"bend|fused_to_root=yes|specimen=150mm|pores=2.4", "fillet_break", "pass"},
        {"bend|fused_to_root=yes|pores=3/32in", "fillet_break", "pass"},
        {"bend|fused_to_root=yes|pores=0.1in", "fillet_break", "fail"},
        {"duty|rated=60|rated_amps=200|amps=200|log=0:00-6:00", "within", "yes"},
        {"duty|rated=60|rated_amps=200|amps=200|log=0:00-6:01", "within", "no"},
        {"bend|flaws=3.1mm", "guided_bend", "fail"},
        {"bend|flaws=2.5,2.5,2.5,2.4", "guided_bend", "pass"},
        {"bend|flaws=2,5; 2,5; 2,5; 2,5; 1,2", "guided_bend", "fail"},
        {"bend|flaws=1/8in", "guided_bend", "pass"},
        {"bend|flaws=0.126in", "guided_bend", "fail"},
        {"bend|flaws=0|corners=5 slag", "guided_bend", "fail"},
        {"bend|corners=7mm", "guided_bend", "new specimen"},
        {"bend|pores=2.5; 2.5|fused_to_root=yes", "fillet_break", "pass"},
        {"bend|pores=2.5; 2.6|fused_to_root=yes", "fillet_break", "fail"},
        {"bend|fused_to_root=no", "fillet_break", "fail"},
        {"bend|folded_flat=yes", "fillet_break", "pass"},
        {"bend|folded_flat=yes|specimen=60mm", "fillet_break", "outside the range of the limits"},
        {"duty|rated=60|rated_amps=200|amps=250|log=0:00-4:00", "within", "no"},
    };
    struct calc_answer a;
    struct error e;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++) {
        ck_assert_msg(run(rows[i][0], UNITS_METRIC, &a, &e) == 0, "%s: %s", rows[i][0], e.text);
        ck_assert_msg(strcmp(word(&a, rows[i][1]), rows[i][2]) == 0, "%s: %s", rows[i][0],
                      word(&a, rows[i][1]));
        calc_answer_free(&a);
    }
}
END_TEST

/* What is wrong is said with what would be right. */
START_TEST(refusals_name_the_right_ones)
{
    static const struct {
        const char *line;
        enum error_kind kind;
        const char *says;
    } rows[] = {
        {"brazing|volts=20", ERROR_USAGE, "heat, cooling"},
        {"heat|volt=20", ERROR_USAGE, "volts, amps"},
        {"heat|volts=20", ERROR_USAGE, "amps and speed"},
        {"heat|volts", ERROR_USAGE, "key=value"},
        {"heat|volts=20|volts=21", ERROR_USAGE, "twice"},
        {"heat|volts=|amps=3", ERROR_INPUT, "missing"},
        {"heat|volts=20x|amps=300|speed=150", ERROR_INPUT, "V"},
        {"heat|volts=20mm|amps=300|speed=150", ERROR_INPUT, "V"},
        {"heat|volts=20±x|amps=300|speed=150", ERROR_INPUT, "±"},
        {"heat|volts=20|amps=300|speed=150|process=311", ERROR_INPUT, "135"},
        {"cooling|heat_input=1|thickness=6|joint=scarf", ERROR_INPUT, "tee"},
        {"bend|flaws=0.1in; 3mm", ERROR_INPUT, "different limits"},
        {"bend|pores=1mm", ERROR_USAGE, "fused_to_root"},
        {"wire|table=2: 4; 4: 8", ERROR_USAGE, "dial"},
        {"wire|table=two: 4|dial=2", ERROR_INPUT, "4: 7.9m/min"},
        {"duty|log=quick", ERROR_INPUT, "time"},
        {"heat|volts=nan|amps=300|speed=150", ERROR_INPUT, "17.5 V"},
        {"heat|volts=±3|amps=300|speed=150", ERROR_INPUT, "voltage"},
        {"wire|diameter=1|feed=6|efficiency=1.5", ERROR_INPUT, "95%"},
        {"stock|coupons=2.5|piece=100", ERROR_INPUT, "coupons"},
        {"stock|coupons=-2|piece=100", ERROR_INPUT, "0 or more"},
        {"heat|volts=-20|amps=100|speed=300", ERROR_INPUT, "volts: -20 V cannot be"},
        {"heat|volts=2000|amps=100|speed=300", ERROR_INPUT, "2000 V cannot be, it must be 5 V to"},
        {"heat|volts=60.1|amps=100|speed=300", ERROR_INPUT, "60.1 V cannot be"},
        {"heat|volts=20|amps=1001|speed=300", ERROR_INPUT, "1001 A cannot be"},
        {"heat|volts=20|amps=100|speed=1e-300", ERROR_INPUT, "Travel speed"},
        {"heat|volts=20|amps=100|speed=0", ERROR_INPUT, "5 mm/min to 3000 mm/min"},
        {"wire|diameter=.045|feed=6", ERROR_INPUT, "Wire diameter"},
        {"wire|diameter=1.2|feed=600", ERROR_INPUT, "Wire feed speed"},
        {"wire|diameter=1.2|feed=6|speed=1e9", ERROR_INPUT, "Travel speed"},
        {"duty|rated=60|rated_amps=2|amps=100", ERROR_INPUT, "Amps"},
        {"duty|rated=60|rated_amps=200|amps=1e4", ERROR_INPUT, "Amps"},
        {"fillet|leg=5|throat=4", ERROR_USAGE, "leg or throat, not both"},
        {"hinge|thickness=6|throat=4|leg2=3", ERROR_USAGE, "throat or leg2, not both"},
        {"heat|energy=5|length=50|volts=20", ERROR_USAGE, "energy or volts, not both"},
        {"bend|thickness=5|radius=5|former=30", ERROR_USAGE, "radius or former"},
        {"wire|diameter=1|feed=6|dial=3|table=2: 4; 4: 8", ERROR_USAGE, "feed or dial"},
        {"duty|log=;;", ERROR_INPUT, "semicolons"},
        {"heat|volts=20±-1|amps=100|speed=300", ERROR_INPUT, "is no ±"},
        {"heat|volts=20±1kg|amps=100|speed=300", ERROR_INPUT, "no unit for this ±"},
        {"wire|table=2: 4; 4: 0|dial=3", ERROR_INPUT, "above 0"},
        {"wire|table=2: 4; 4: 8kg|dial=3", ERROR_INPUT, "table"},
        {"cooling|heat_input=1|thickness=6|f2=0", ERROR_INPUT, "f2 and f3"},
        {"stock|coupons=1000001|piece=100", ERROR_INPUT, "million"},
        {"wire|machine=bench|dial=3", ERROR_USAGE, "no book"},
        {"hinge|coupons=held 4 6 1 1", ERROR_INPUT, "thickness, leg"},
        {"heat|speed=200|time=3s|volts=20", ERROR_USAGE, "speed or time"},
        {"bend|corners=3mm slag slag", ERROR_INPUT, "one word"},
        {"bend|flaws=-3", ERROR_INPUT, "0 or more"},
        {"wire|table=2: -4; 4: 8|dial=3", ERROR_INPUT, "above 0"},
        {"hinge|coupons=held -3 5", ERROR_INPUT, "above 0"},
        {"hinge|coupons=;", ERROR_INPUT, "above 0"},
        {"hinge|coupons=bent 3 5", ERROR_INPUT, "broke nor held"},
        {"hinge|coupons=held 3", ERROR_INPUT, "thickness"},
        {"fillet|leg1=4", ERROR_USAGE, "leg1 and leg2"},
        {"bend|gauge_before=25", ERROR_USAGE, "gauge_after"},
        {"bend|gauge_after=25", ERROR_USAGE, "gauge_before"},
        {"preheat|cet=.3|thickness=20|hydrogen=5", ERROR_USAGE, "heat_input"},
        {"carbon", ERROR_USAGE, "at least C"},
    };
    struct calc_answer a;
    struct error e;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++) {
        e = (struct error){0};
        ck_assert_msg(run(rows[i].line, UNITS_METRIC, &a, &e) != 0, "%s", rows[i].line);
        ck_assert_msg(strstr(e.text, rows[i].says) != NULL, "%s: %s", rows[i].line, e.text);
        ck_assert_msg(e.kind == rows[i].kind, "%s: kind %d", rows[i].line, (int)e.kind);
        ck_assert_uint_eq(a.figure_count, 0);
    }
}
END_TEST

static int count_letters(char *item, void *context, struct error *e)
{
    size_t *letters = context;

    (void)e;
    letters[0]++;
    letters[1] += strlen(item);
    return 0;
}

/* An item has at most 63 letters, a list at most 256 items. */
START_TEST(lists_have_their_bounds)
{
    static const char sixty[] = "123456789012345678901234567890123456789012345678901234567890";
    size_t seen[2] = {0};
    char text[2 * 257 + 1] = "";
    struct error e;

    snprintf(text, sizeof text, "%s123; ab ;;c", sixty);
    ck_assert_int_eq(calc_list_read("flaws", text, count_letters, seen, &e), 0);
    ck_assert_uint_eq(seen[0], 3);
    ck_assert_uint_eq(seen[1], 63 + 2 + 1);
    snprintf(text, sizeof text, "%s1234; ab", sixty);
    ck_assert_int_ne(calc_list_read("flaws", text, count_letters, seen, &e), 0);
    ck_assert_str_eq(e.text, "flaws: at most 256, each in less than 64 letters, divided by "
                             "semicolons");
    seen[0] = 0;
    for (size_t i = 0; i < 256; i++)
        memcpy(text + 2 * i, i == 0 ? " 1" : ";1", 3);
    ck_assert_int_eq(calc_list_read("flaws", text, count_letters, seen, &e), 0);
    ck_assert_uint_eq(seen[0], 256);
    strcat(text, ";1");
    ck_assert_int_ne(calc_list_read("flaws", text, count_letters, seen, &e), 0);
}
END_TEST

/* A comma is a decimal comma between two digits only. */
START_TEST(commas_beside_a_blank_divide)
{
    static const struct {
        const char *text;
        size_t items;
    } rows[] = {{"2,5", 1}, {"2 ,5", 2}, {"2, 5", 2}, {",5", 1}, {"2,5;3,1", 2}, {"2 ,5;3", 3}};
    struct error e;

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t seen[2] = {0};

        ck_assert_int_eq(calc_list_read("flaws", rows[i].text, count_letters, seen, &e), 0);
        ck_assert_msg(seen[0] == rows[i].items, "%s: %zu", rows[i].text, seen[0]);
    }
}
END_TEST

/* Every row of the table is complete, and every example runs. */
START_TEST(the_table_is_complete)
{
    const struct calc_kind *k;
    size_t i, j;

    for (i = 0; (k = calc_kind_at(i)) != NULL; i++) {
        struct calc_answer a;
        struct error e;
        char line[LINE], *s;

        snprintf(line, sizeof line, "%s|%s", k->name, k->example);
        for (s = line; *s != '\0'; s++)
            *s = *s == ' ' ? '|' : *s;
        ck_assert_msg(run(line, UNITS_INCH, &a, &e) == 0, "%s: %s", line, e.text);
        ck_assert_uint_gt(a.figure_count, 0);
        for (j = 0; j < a.figure_count; j++)
            ck_assert_ptr_nonnull(a.figures[j].unit);
        calc_answer_free(&a);
        for (j = 0; k->outputs[j].key != NULL; j++) {
            const struct calc_output *o = &k->outputs[j];

            ck_assert_ptr_nonnull(o->label);
            ck_assert_ptr_nonnull(o->formula);
            ck_assert_ptr_nonnull(o->source);
            ck_assert(o->dimension == DIM_NUMBER || o->dimension == DIM_COUNT ||
                      calc_unit(o->dimension, o->unit) != NULL);
            ck_assert(o->twin_key == NULL || unit_shown(o->dimension, UNITS_INCH) != NULL);
        }
        ck_assert_uint_lt(j, CALC_OUTPUTS);
        for (j = 0; k->arguments[j].key != NULL; j++) {
            const struct calc_argument *x = &k->arguments[j];

            ck_assert_ptr_nonnull(x->help);
            ck_assert(x->dimension == DIM_NUMBER || x->dimension == DIM_COUNT ||
                      calc_unit(x->dimension, x->unit) != NULL);
            ck_assert((x->type == CALC_CHOICE) == (x->choices != NULL));
        }
        ck_assert_uint_lt(j, CALC_ARGUMENTS);
        ck_assert_ptr_nonnull(k->needs);
        ck_assert_ptr_nonnull(k->range);
    }
    ck_assert_uint_eq(i, 10);
}
END_TEST

static json_t *json_of(const char *line)
{
    struct calc_answer a;
    struct error e;
    json_error_t where;
    json_t *root;
    char *text;

    ck_assert_msg(run(line, UNITS_INCH, &a, &e) == 0, "%s", e.text);
    text = calc_json(&a);
    root = json_loads(text, 0, &where);
    ck_assert_msg(root != NULL, "%s in %s", where.text, text);
    free(text);
    calc_answer_free(&a);
    return root;
}

START_TEST(json_has_every_figure_under_its_key)
{
    json_t *root = json_of("heat|volts=20|amps=300|speed=2.5mm/s|process=135");

    ck_assert_int_eq(json_integer_value(json_object_get(root, "schema")), 1);
    ck_assert_double_eq_tol(json_number_value(json_object_get(root, "arc_energy_kj_per_mm")), 2.4,
                            1e-12);
    ck_assert_double_eq_tol(json_number_value(json_object_get(root, "heat_input_kj_per_in")),
                            48.768, 1e-9);
    ck_assert_uint_gt(json_array_size(json_object_get(root, "figures")), 5);
    ck_assert_uint_gt(json_array_size(json_object_get(root, "inputs")), 3);
    json_decref(root);
    root = json_of("preheat|cet=.3|thickness=6|hydrogen=5|heat_input=1");
    ck_assert(json_is_null(json_object_get(root, "preheat_c")));
    ck_assert(json_is_true(json_object_get(root, "outside_range")));
    ck_assert(json_is_string(json_object_get(root, "caution")));
    json_decref(root);
    root = json_of("cooling|heat_input=1|thickness=6");
    ck_assert_str_eq(json_string_value(json_object_get(root, "regime")), "thin");
    json_decref(root);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("calc/calc");
    TCase *t = tcase_create("calc");

    tcase_add_loop_test(t, check_values, 0, (int)(sizeof checks / sizeof *checks));
    tcase_add_test(t, bars_are_enough_and_no_more);
    tcase_add_test(t, no_error_is_not_shown);
    tcase_add_test(t, which_kinds_carry_the_cautions);
    tcase_add_test(t, pages_of_kinds);
    tcase_add_test(t, pages_of_answers);
    tcase_add_test(t, inch_and_metric_agree);
    tcase_add_test(t, the_book_changes_what_is_shown_only);
    tcase_add_test(t, gauge_is_the_manufacturers_standard);
    tcase_add_test(t, reading_errors_are_carried);
    tcase_add_test(t, errors_of_shares);
    tcase_add_test(t, outside_the_range_is_an_answer);
    tcase_add_test(t, no_preheat_is_said_in_words);
    tcase_add_test(t, inert_gas_is_not_for_steel);
    tcase_add_test(t, no_figure_without_a_reason);
    tcase_add_test(t, verdicts_in_words);
    tcase_add_test(t, refusals_name_the_right_ones);
    tcase_add_test(t, lists_have_their_bounds);
    tcase_add_test(t, commas_beside_a_blank_divide);
    tcase_add_test(t, the_table_is_complete);
    tcase_add_test(t, json_has_every_figure_under_its_key);
    suite_add_tcase(s, t);
    return s;
}
