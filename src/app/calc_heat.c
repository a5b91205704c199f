/*
 * calc heat, calc cooling: what a pass puts in, and how fast the joint cools from it.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_work.h"
#include "weld/cooling.h"
#include "weld/heat.h"
#include "weld/uncertainty.h"

enum {
    HEAT_VOLTS,
    HEAT_AMPS,
    HEAT_SPEED,
    HEAT_PROCESS,
    HEAT_K,
    HEAT_LENGTH,
    HEAT_TIME,
    HEAT_KJ,
    HEAT_KW
};

static const struct calc_argument heat_arguments[] = {
    {"volts", "voltage", CALC_QUANTITY, DIM_VOLTAGE, "V", NULL, NULL, READING_VOLT,
     "arc voltage, at the feeder rather than at the machine"},
    {"amps", "current", CALC_QUANTITY, DIM_CURRENT, "A", NULL, NULL, -READING_AMPERE,
     "welding current"},
    {"speed", "travel travel_speed", CALC_QUANTITY, DIM_SPEED, "mm/min", NULL, NULL, 0,
     "travel speed; or give length and time"},
    {"process", NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "ISO 4063 number (111, 114, 121, 131, 135, 136, 138, 141, 15) or its abbreviation; gives k"},
    {"k", "efficiency_k", CALC_QUANTITY, DIM_NUMBER, NULL, NULL, NULL, 0,
     "thermal efficiency, in place of the one the process has"},
    {"length", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM, "length of the bead"},
    {"time", "arc_time", CALC_QUANTITY, DIM_TIME, "s", NULL, NULL, READING_SECOND,
     "arc-on time for that length"},
    {"energy", NULL, CALC_QUANTITY, DIM_ENERGY, "kJ", NULL, NULL, 0,
     "energy of the pass from a waveform-controlled machine; with length"},
    {"power", NULL, CALC_QUANTITY, DIM_POWER, "kW", NULL, NULL, 0,
     "mean power from a waveform-controlled machine; with speed, or length and time"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

enum { HEAT_ARC_ENERGY, HEAT_INPUT, HEAT_AWS, HEAT_EFFICIENCY, HEAT_TRAVEL, HEAT_PASS };

static const struct calc_output heat_outputs[] = {
    {"arc_energy_kj_per_mm", "Arc energy", DIM_LINE_ENERGY, "kJ/mm", "arc_energy_kj_per_in",
     "kJ/in", "U·I/v; energy/length; power/v", "EN 1011-1, ISO/TR 18491:2015"},
    {"heat_input_kj_per_mm", "Heat input (with k)", DIM_LINE_ENERGY, "kJ/mm",
     "heat_input_kj_per_in", "kJ/in", "k·arc energy", "EN 1011-1 Table 1"},
    {"heat_input_aws_kj_per_mm", "Heat input as AWS and ASME call it (no k)", DIM_LINE_ENERGY,
     "kJ/mm", "heat_input_aws_kj_per_in", "kJ/in", "0.06·U·I/(in/min) kJ/in: the arc energy",
     "AWS D1.1, ASME IX QW-409.1"},
    {"efficiency_k", "Thermal efficiency k", DIM_NUMBER, "", NULL, NULL, "by process",
     "EN 1011-1 Table 1"},
    {"travel_speed_mm_per_min", "Travel speed", DIM_SPEED, "mm/min", "travel_speed_in_per_min",
     "in/min", "length/time", "by definition"},
    {"pass_energy_kj", "Arc energy of the whole pass", DIM_ENERGY, "kJ", NULL, NULL,
     "arc energy × length", "by definition"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

/* mm/s; NAN when neither speed nor length and time are known. */
static struct mm_per_s heat_speed(const struct calc_work *w)
{
    if (!isnan(w->in[HEAT_SPEED]))
        return (struct mm_per_s){w->in[HEAT_SPEED] / 60};
    return heat_travel_speed((struct mm){w->in[HEAT_LENGTH]}, (struct seconds){w->in[HEAT_TIME]});
}

int calc_process(const char *text, const struct heat_process **out, struct error *e)
{
    *out = heat_process_named(text);
    if (text == NULL || *out != NULL)
        return 0;
    return error_set(
        e, ERROR_INPUT,
        "process: '%s' is not in EN 1011-1 Table 1; it has 111, 114, 121, 131, 135, 136, "
        "138, 141 and 15",
        text);
}

void calc_note_inert_gas(const char *process, struct calc_answer *a)
{
    const struct heat_process *p = heat_process_named(process);

    if (p != NULL && p->iso4063 == HEAT_INERT_GAS)
        calc_note(a,
                  "131 is welded under inert gas, as aluminium is; steel takes active gas: 135.");
}

/* k as given, else by the process; NAN when neither says it. */
static int heat_k(const struct calc_work *w, double *k, struct error *e)
{
    const struct heat_process *p;

    if (calc_process(w->text[HEAT_PROCESS], &p, e) != 0)
        return -1;
    *k = !isnan(w->in[HEAT_K]) ? w->in[HEAT_K] : p != NULL ? p->k : NAN;
    return 0;
}

static struct heat heat_of(const struct calc_work *w, struct mm_per_s v, double k)
{
    if (!isnan(w->in[HEAT_KJ]) && !isnan(w->in[HEAT_LENGTH]))
        return heat_from_energy((struct kilojoule){w->in[HEAT_KJ]}, (struct mm){w->in[HEAT_LENGTH]},
                                k);
    if (!isnan(w->in[HEAT_KW]))
        return heat_from_power((struct kilowatt){w->in[HEAT_KW]}, v, k);
    return heat_from_readings((struct volt){w->in[HEAT_VOLTS]}, (struct ampere){w->in[HEAT_AMPS]},
                              v, k);
}

static bool heat_asked(const struct calc_work *w)
{
    bool speed =
        !isnan(w->in[HEAT_SPEED]) || (!isnan(w->in[HEAT_LENGTH]) && !isnan(w->in[HEAT_TIME]));

    return (!isnan(w->in[HEAT_KJ]) && !isnan(w->in[HEAT_LENGTH])) ||
           (speed && !isnan(w->in[HEAT_KW])) ||
           (speed && !isnan(w->in[HEAT_VOLTS]) && !isnan(w->in[HEAT_AMPS]));
}

static int heat_work(struct calc_work *w, struct error *e)
{
    struct mm_per_s v = heat_speed(w);
    struct heat h;
    double k = NAN;

    if (heat_k(w, &k, e) != 0)
        return -1;
    if (!heat_asked(w))
        return 0;
    h = heat_of(w, v, k);
    w->out[HEAT_ARC_ENERGY] = w->out[HEAT_AWS] = h.arc_energy.v;
    w->out[HEAT_INPUT] = h.heat_input.v;
    w->out[HEAT_EFFICIENCY] = k;
    w->out[HEAT_TRAVEL] = v.v * 60;
    w->out[HEAT_PASS] = h.arc_energy.v * w->in[HEAT_LENGTH];
    w->why[HEAT_INPUT] = h.outside;
    w->want[HEAT_INPUT] = isnan(k) ? "say the process, or k" : NULL;
    if (isnan(h.arc_energy.v))
        w->why[HEAT_ARC_ENERGY] = w->why[HEAT_AWS] = h.outside;
    return 0;
}

static void heat_say(const struct calc_work *w, struct calc_answer *a)
{
    if (!heat_asked(w))
        return;
    calc_note(a, "Arc energy carries no k and heat input does; the codes of the United States say "
                 "heat input and mean the arc energy.");
    calc_note(a, "It is the figure of one pass: those of several passes are not added up.");
    calc_note_inert_gas(w->text[HEAT_PROCESS], a);
    if (!isnan(w->in[HEAT_SPEED]))
        calc_note(a, "A speed without ± counts as exact; length and time carry their own.");
}

const struct calc_kind calc_heat = {
    .name = "heat",
    .either = "speed|time; energy|power volts amps; power|volts amps",
    .summary = "Arc energy and heat input of one pass",
    .needs = "volts, amps and speed (or length and time); or energy and length; or power and speed",
    .range = "every reading above 0; the process one of EN 1011-1 Table 1",
    .arguments = heat_arguments,
    .outputs = heat_outputs,
    .example = "volts=20 amps=300 speed=2.5mm/s process=135",
    .work = heat_work,
    .say = heat_say,
};

enum { COOL_Q, COOL_T0, COOL_D, COOL_JOINT, COOL_F2, COOL_F3 };

static const struct calc_argument cooling_arguments[] = {
    {"heat_input", "q", CALC_QUANTITY, DIM_LINE_ENERGY, "kJ/mm", NULL, NULL, 0,
     "heat input of the pass, with k"},
    {"preheat", "t0 interpass", CALC_QUANTITY, DIM_TEMPERATURE, "degC", NULL, "20 degC",
     READING_KELVIN, "temperature of the plate before the pass"},
    {"thickness", "d", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "plate thickness"},
    {"joint", NULL, CALC_CHOICE, DIM_NUMBER, NULL, "plate|butt|corner|tee", "plate", 0,
     "shape factors F2 and F3; plate: both 1"},
    {"f2", NULL, CALC_QUANTITY, DIM_NUMBER, NULL, NULL, NULL, 0,
     "shape factor of thin plate, in place of the joint's"},
    {"f3", NULL, CALC_QUANTITY, DIM_NUMBER, NULL, NULL, NULL, 0,
     "shape factor of thick plate, in place of the joint's"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

enum {
    COOL_T85,
    COOL_LOW,
    COOL_HIGH,
    COOL_THICK,
    COOL_THIN,
    COOL_TRANSITION,
    COOL_JOINT_TRANSITION,
    COOL_OUT_F2,
    COOL_OUT_F3
};

#define EN1011_2_D "EN 1011-2:2001 Annex D"

static const struct calc_output cooling_outputs[] = {
    {"t85_s", "Cooling time t8/5", DIM_TIME, "s", NULL, NULL, "the larger of thick and thin",
     EN1011_2_D},
    {"t85_low_s", "t8/5 with the low end of F2", DIM_TIME, "s", NULL, NULL, "as t8/5",
     EN1011_2_D " Table D.1 [from memory]"},
    {"t85_high_s", "t8/5 with the high end of F2", DIM_TIME, "s", NULL, NULL, "as t8/5",
     EN1011_2_D " Table D.1 [from memory]"},
    {"t85_thick_s", "t8/5, heat flowing three ways", DIM_TIME, "s", NULL, NULL,
     "(6700 − 5·T₀)·Q·[1/(500−T₀) − 1/(800−T₀)]·F3", EN1011_2_D},
    {"t85_thin_s", "t8/5, heat flowing two ways", DIM_TIME, "s", NULL, NULL,
     "(4300 − 4.3·T₀)·10⁵·(Q/d)²·[1/(500−T₀)² − 1/(800−T₀)²]·F2", EN1011_2_D},
    {"transition_mm", "Transition thickness, thin to thick", DIM_LENGTH, "mm", "transition_in",
     "in", "√{(4300−4.3·T₀)·10⁵/(6700−5·T₀)·Q·[1/(500−T₀) + 1/(800−T₀)]}",
     EN1011_2_D ", both formulas set equal with F2 = F3"},
    {"transition_joint_mm", "Transition thickness of this joint", DIM_LENGTH, "mm",
     "transition_joint_in", "in", "transition·√(F2/F3)", EN1011_2_D ", both formulas set equal"},
    {"f2", "Shape factor F2", DIM_NUMBER, "", NULL, NULL, "by joint; middle of the range",
     EN1011_2_D " Table D.1 [from memory]"},
    {"f3", "Shape factor F3", DIM_NUMBER, "", NULL, NULL, "by joint",
     EN1011_2_D " Table D.1 [from memory]"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

static struct cooling_joint cooling_joint_of(const struct calc_work *w)
{
    struct cooling_joint j = *cooling_joint_at((size_t)w->in[COOL_JOINT]);

    if (!isnan(w->in[COOL_F2]))
        j.f2_low = j.f2_high = w->in[COOL_F2];
    if (!isnan(w->in[COOL_F3]))
        j.f3 = w->in[COOL_F3];
    return j;
}

static int cooling_work(struct calc_work *w, struct error *e)
{
    struct cooling_joint j = cooling_joint_of(w);
    struct cooling c;

    if (isnan(w->in[COOL_Q]) || isnan(w->in[COOL_D]))
        return 0;
    if (!(j.f2_low > 0) || !(j.f3 > 0))
        return error_set(e, ERROR_INPUT, "f2 and f3 must be above 0");
    c = cooling_time((struct kj_per_mm){w->in[COOL_Q]}, (struct celsius){w->in[COOL_T0]},
                     (struct mm){w->in[COOL_D]}, &j);
    w->out[COOL_T85] = c.t85.v;
    w->out[COOL_THICK] = c.thick.v;
    w->out[COOL_THIN] = c.thin.v;
    w->out[COOL_TRANSITION] = c.transition.v;
    if (w->in[COOL_JOINT] > 0 || !isnan(w->in[COOL_F2]) || !isnan(w->in[COOL_F3]))
        w->out[COOL_JOINT_TRANSITION] = c.transition_joint.v;
    w->out[COOL_OUT_F2] = (j.f2_low + j.f2_high) / 2;
    w->out[COOL_OUT_F3] = j.f3;
    w->why[COOL_T85] = c.outside;
    if (j.f2_low < j.f2_high) {
        w->out[COOL_LOW] = c.low.v;
        w->out[COOL_HIGH] = c.high.v;
    }
    return 0;
}

static void cooling_say(const struct calc_work *w, struct calc_answer *a)
{
    if (isnan(w->out[COOL_T85]))
        return;
    calc_word(a, "regime", "Heat flows", w->out[COOL_THIN] > w->out[COOL_THICK] ? "thin" : "thick");
    calc_note(a, "An index to compare coupons by: the formulas take plates so wide that the heat "
                 "never meets an edge; small coupons cool more slowly.");
    if (!isnan(w->out[COOL_LOW]))
        calc_note(a, "Table D.1 gives F2 of a fillet as a range; t8/5 is taken at its middle.");
}

const struct calc_kind calc_cooling = {
    .name = "cooling",
    .summary = "Cooling time t8/5, from 800 °C to 500 °C",
    .needs = "heat_input and thickness",
    .range = "unalloyed and low-alloy steel, 0.1 to 5 kJ/mm, up to 350 °C before the pass, wide "
             "plates; no figure outside",
    .arguments = cooling_arguments,
    .outputs = cooling_outputs,
    .example = "heat_input=0.5 preheat=20 thickness=6",
    .permission = true,
    .work = cooling_work,
    .say = cooling_say,
};
