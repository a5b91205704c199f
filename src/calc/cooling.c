/*
 * calc cooling: how fast the joint cools from it.
 */
#include <math.h>

#include "calc/answer.h"
#include "weld/cooling.h"

enum { Q, T0, D, JOINT, F2, F3 };

enum {
    OUT_T85,
    OUT_LOW,
    OUT_HIGH,
    OUT_THICK,
    OUT_THIN,
    OUT_TRANSITION,
    OUT_JOINT_TRANSITION,
    OUT_F2,
    OUT_F3
};

#define EN1011_2_D "EN 1011-2:2001 Annex D"

static struct cooling_joint joint_of(const struct calc_work *w)
{
    struct cooling_joint j = *cooling_joint_at((size_t)w->in[JOINT]);

    if (!isnan(w->in[F2]))
        j.f2_low = j.f2_high = w->in[F2];
    if (!isnan(w->in[F3]))
        j.f3 = w->in[F3];
    return j;
}

static int work(struct calc_work *w, struct error *e)
{
    struct cooling_joint j = joint_of(w);
    struct cooling c;

    if (isnan(w->in[Q]) || isnan(w->in[D]))
        return 0;
    if (!(j.f2_low > 0) || !(j.f3 > 0))
        return error_set(e, ERROR_INPUT, "f2 and f3 must be above 0");
    c = cooling_time((struct kj_per_mm){w->in[Q]}, (struct celsius){w->in[T0]},
                     (struct mm){w->in[D]}, &j);
    w->out[OUT_T85] = c.t85.v;
    w->out[OUT_THICK] = c.thick.v;
    w->out[OUT_THIN] = c.thin.v;
    w->out[OUT_TRANSITION] = c.transition.v;
    if (w->in[JOINT] > 0 || !isnan(w->in[F2]) || !isnan(w->in[F3]))
        w->out[OUT_JOINT_TRANSITION] = c.transition_joint.v;
    w->out[OUT_F2] = (j.f2_low + j.f2_high) / 2;
    w->out[OUT_F3] = j.f3;
    w->why[OUT_T85] = c.outside;
    if (j.f2_low < j.f2_high) {
        w->out[OUT_LOW] = c.low.v;
        w->out[OUT_HIGH] = c.high.v;
    }
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    if (!isnan(w->out[OUT_T85]))
        calc_word(a, "regime", "Heat flows",
                  w->out[OUT_THIN] > w->out[OUT_THICK] ? "thin" : "thick");
}

const struct calc_kind calc_cooling = {
    .name = "cooling",
    .summary = "Cooling time t8/5, from 800 °C to 500 °C",
    .needs = "heat_input and thickness",
    .range = "unalloyed and low-alloy steel, 0.1 to 5 kJ/mm, up to 350 °C before the pass, wide "
             "plates, t8/5 up to 1000 s; no figure outside",
    /* clang-format off */
    .remarks = {
        {OUT_T85, "An index to compare coupons by: the formulas take plates so wide that the heat "
            "never meets an edge; small coupons cool more slowly."},
        {OUT_LOW, "Table D.1 gives F2 of a fillet as a range; t8/5 is taken at its middle."},
    },
    .arguments = {
        [Q] = {.key = "heat_input", .also = "q", .dimension = DIM_LINE_ENERGY,
            .help = "heat input of the pass, with k"},
        [T0] = {.key = "preheat", .also = "t0 interpass", .dimension = DIM_TEMPERATURE,
            .usual = "20 degC", .error = READING_KELVIN,
            .help = "temperature of the plate before the pass"},
        [D] = {.key = "thickness", .also = "d", BY_CALLIPER, .help = "plate thickness"},
        [JOINT] = {.key = "joint", .type = CALC_CHOICE, .choices = "plate|butt|corner|tee",
            .usual = "plate", .help = "shape factors F2 and F3; plate: both 1"},
        [F2] = {.key = "f2", .help = "shape factor of thin plate, in place of the joint's"},
        [F3] = {.key = "f3", .help = "shape factor of thick plate, in place of the joint's"},
    },
    .outputs = {
        [OUT_T85] = {.card = true, IN_SECONDS("t85"), .label = "Cooling time t8/5",
            .formula = "the larger of thick and thin", .source = EN1011_2_D},
        [OUT_LOW] = {IN_SECONDS("t85_low"), .label = "t8/5 with the low end of F2",
            .formula = "as t8/5", .source = EN1011_2_D " Table D.1 [from memory]"},
        [OUT_HIGH] = {IN_SECONDS("t85_high"), .label = "t8/5 with the high end of F2",
            .formula = "as t8/5", .source = EN1011_2_D " Table D.1 [from memory]"},
        [OUT_THICK] = {IN_SECONDS("t85_thick"), .label = "t8/5, heat flowing three ways",
            .formula = "(6700 − 5·T₀)·Q·[1/(500−T₀) − 1/(800−T₀)]·F3", .source = EN1011_2_D},
        [OUT_THIN] = {IN_SECONDS("t85_thin"), .label = "t8/5, heat flowing two ways",
            .formula = "(4300 − 4.3·T₀)·10⁵·(Q/d)²·[1/(500−T₀)² − 1/(800−T₀)²]·F2",
            .source = EN1011_2_D},
        [OUT_TRANSITION] = {IN_MM("transition"), .label = "Transition thickness, thin to thick",
            .formula = "√{(4300−4.3·T₀)·10⁵/(6700−5·T₀)·Q·[1/(500−T₀) + 1/(800−T₀)]}",
            .source = EN1011_2_D ", both formulas set equal with F2 = F3"},
        [OUT_JOINT_TRANSITION] = {IN_MM("transition_joint"),
            .label = "Transition thickness of this joint", .formula = "transition·√(F2/F3)",
            .source = EN1011_2_D ", both formulas set equal"},
        [OUT_F2] = {.key = "f2", .label = "Shape factor F2",
            .formula = "by joint; middle of the range",
            .source = EN1011_2_D " Table D.1 [from memory]"},
        [OUT_F3] = {.key = "f3", .label = "Shape factor F3", .formula = "by joint",
            .source = EN1011_2_D " Table D.1 [from memory]"},
    },
    /* clang-format on */
    .example = "heat_input=0.5 preheat=20 thickness=6",
    .permission = true,
    .work = work,
    .say = say,
};
