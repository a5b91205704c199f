/*
 * calc heat: what a pass puts into the joint.
 */
#include <math.h>

#include "calc/answer.h"
#include "model/variable_key.h"
#include "weld/heat.h"

enum { VOLTS, AMPS, SPEED, PROCESS, K, LENGTH, TIME, KJ, KW };

enum { OUT_ARC_ENERGY, OUT_INPUT, OUT_AWS, OUT_EFFICIENCY, OUT_TRAVEL, OUT_PASS };

int calc_process(const char *text, const struct heat_process **out, struct error *e)
{
    *out = heat_process_named(text);
    if (text == NULL || *out != NULL)
        return 0;
    return error_set(e, ERROR_INPUT,
                     "process: '%s' is not in EN 1011-1 Table 1; it has 111, 114, 121, 131, 135, "
                     "136, 138, 141 and 15",
                     text);
}

void calc_process_note(const char *text, struct calc_answer *a)
{
    const struct heat_process *p = heat_process_named(text);

    if (p != NULL && p->iso4063 == HEAT_INERT_GAS)
        calc_note(a,
                  "131 is welded under inert gas, as aluminium is; steel takes active gas: 135.");
}

/* mm/s; NAN when neither speed nor length and time are known. */
static struct mm_per_s heat_speed(const struct calc_work *w)
{
    if (!isnan(w->in[SPEED]))
        return (struct mm_per_s){w->in[SPEED] / 60};
    return heat_travel_speed((struct mm){w->in[LENGTH]}, (struct seconds){w->in[TIME]});
}

/* k as given, else by the process; NAN when neither says it. */
static int heat_k(const struct calc_work *w, double *k, struct error *e)
{
    const struct heat_process *p;

    if (calc_process(w->text[PROCESS], &p, e) != 0)
        return -1;
    *k = !isnan(w->in[K]) ? w->in[K] : p != NULL ? p->k : NAN;
    return 0;
}

static struct heat heat_of(const struct calc_work *w, struct mm_per_s v, double k)
{
    if (!isnan(w->in[KJ]) && !isnan(w->in[LENGTH]))
        return heat_from_energy((struct kilojoule){w->in[KJ]}, (struct mm){w->in[LENGTH]}, k);
    if (!isnan(w->in[KW]))
        return heat_from_power((struct kilowatt){w->in[KW]}, v, k);
    return heat_from_readings((struct volt){w->in[VOLTS]}, (struct ampere){w->in[AMPS]}, v, k);
}

static bool heat_asked(const struct calc_work *w)
{
    bool speed = !isnan(w->in[SPEED]) || (!isnan(w->in[LENGTH]) && !isnan(w->in[TIME]));

    return (!isnan(w->in[KJ]) && !isnan(w->in[LENGTH])) || (speed && !isnan(w->in[KW])) ||
           (speed && !isnan(w->in[VOLTS]) && !isnan(w->in[AMPS]));
}

static int work(struct calc_work *w, struct error *e)
{
    struct mm_per_s v = heat_speed(w);
    struct heat h;
    double k = NAN;

    if (heat_k(w, &k, e) != 0)
        return -1;
    if (!heat_asked(w))
        return 0;
    h = heat_of(w, v, k);
    w->out[OUT_ARC_ENERGY] = w->out[OUT_AWS] = h.arc_energy.v;
    w->out[OUT_INPUT] = h.heat_input.v;
    w->out[OUT_EFFICIENCY] = k;
    w->out[OUT_TRAVEL] = v.v * 60;
    w->out[OUT_PASS] = h.arc_energy.v * w->in[LENGTH];
    w->why[OUT_INPUT] = h.outside;
    w->want[OUT_INPUT] = isnan(k) ? "say the process, or k" : NULL;
    if (isnan(h.arc_energy.v))
        w->why[OUT_ARC_ENERGY] = w->why[OUT_AWS] = h.outside;
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    if (!heat_asked(w))
        return;
    calc_note(a, "Arc energy carries no k and heat input does; the codes of the United States say "
                 "heat input and mean the arc energy.");
    calc_note(a, "It is the figure of one pass: those of several passes are not added up.");
    calc_process_note(w->text[PROCESS], a);
    if (!isnan(w->in[SPEED]))
        calc_note(a, "A speed without ± counts as exact; length and time carry their own.");
}

const struct calc_kind calc_heat = {
    .name = "heat",
    .either = "speed|time; energy|power volts amps; power|volts amps",
    .summary = "Arc energy and heat input of one pass",
    .needs = "volts, amps and speed (or length and time); or energy and length; or power and speed",
    .range = "every reading above 0; the process one of EN 1011-1 Table 1",
    /* clang-format off */
    .arguments = {
        [VOLTS] = {.key = "volts", .also = "voltage", .dimension = DIM_VOLTAGE, .limits = KEY_VOLTS,
            .error = READING_VOLT, .help = "arc voltage, at the feeder rather than at the machine"},
        [AMPS] = {.key = "amps", .also = "current", .dimension = DIM_CURRENT, .limits = KEY_AMPS,
            .error = -READING_AMPERE, .help = "welding current"},
        [SPEED] = {.key = "speed", .also = "travel travel_speed", .dimension = DIM_SPEED,
            .limits = KEY_TRAVEL_SPEED, .help = "travel speed; or give length and time"},
        [PROCESS] = {.key = "process", .type = CALC_TEXT,
            .help = "ISO 4063 number (111, 114, 121, 131, 135, 136, 138, 141, 15) or its "
            "abbreviation; gives k"},
        [K] = {.key = "k", .also = "efficiency_k",
            .help = "thermal efficiency, in place of the one the process has"},
        [LENGTH] = {.key = "length", BY_RULE, .help = "length of the bead"},
        [TIME] = {.key = "time", .also = "arc_time", .dimension = DIM_TIME, .error = READING_SECOND,
            .help = "arc-on time for that length"},
        [KJ] = {.key = "energy", .dimension = DIM_ENERGY,
            .help = "energy of the pass from a waveform-controlled machine; with length"},
        [KW] = {.key = "power", .dimension = DIM_POWER,
            .help = "mean power from a waveform-controlled machine; with speed, or length and "
            "time"},
    },
    .outputs = {
        [OUT_ARC_ENERGY] = {.card = true, IN_KJ_PER_MM("arc_energy"), .label = "Arc energy",
            .formula = "U·I/v; energy/length; power/v", .source = "EN 1011-1, ISO/TR 18491:2015"},
        [OUT_INPUT] = {.card = true, IN_KJ_PER_MM("heat_input"), .label = "Heat input (with k)",
            .formula = "k·arc energy", .source = "EN 1011-1 Table 1"},
        [OUT_AWS] = {IN_KJ_PER_MM("heat_input_aws"),
            .label = "Heat input as AWS and ASME call it (no k)",
            .formula = "0.06·U·I/(in/min) kJ/in: the arc energy",
            .source = "AWS D1.1, ASME IX QW-409.1"},
        [OUT_EFFICIENCY] = {.key = "efficiency_k", .label = "Thermal efficiency k",
            .formula = "by process", .source = "EN 1011-1 Table 1"},
        [OUT_TRAVEL] = {.card = true, .key = "travel_speed_mm_per_min", .label = "Travel speed",
            .dimension = DIM_SPEED, .twin_key = "travel_speed_in_per_min", .formula = "length/time",
            .source = "by definition"},
        [OUT_PASS] = {.key = "pass_energy_kj", .label = "Arc energy of the whole pass",
            .dimension = DIM_ENERGY, .formula = "arc energy × length", .source = "by definition"},
    },
    /* clang-format on */
    .example = "volts=20 amps=300 speed=2.5mm/s process=135",
    .work = work,
    .say = say,
};
