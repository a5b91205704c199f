/*
 * calc wire: bead, deposition, feed by the timed length, the dial's calibration, wire a coupon
 * takes.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_feedtable.h"
#include "app/calc_work.h"
#include "weld/uncertainty.h"
#include "weld/wire.h"

enum {
    DIAMETER,
    FEED,
    EFFICIENCY,
    SPEED,
    KIND,
    MASS,
    PROCESS,
    RUN_OUT,
    TIME,
    BEAD,
    ARC,
    TABLE,
    MACHINE,
    DIAL
};

static const struct calc_argument arguments[] = {
    {"diameter", "d", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, 0,
     "of the wire, as on the spool"},
    {"feed", "wfs wire_feed_speed", CALC_QUANTITY, DIM_SPEED, "m/min", NULL, NULL, 0,
     "wire feed speed; or run_out and time; or table and dial"},
    {"efficiency", "eta", CALC_QUANTITY, DIM_SHARE, NULL, NULL, NULL, 0,
     "weld metal over wire melted, 0.95 or 95%; else the usual one of the process"},
    {"speed", "travel travel_speed", CALC_QUANTITY, DIM_SPEED, "mm/min", NULL, NULL, 0,
     "travel speed, for the bead"},
    {"kind", NULL, CALC_CHOICE, DIM_NUMBER, NULL, "solid|cored", "solid", 0,
     "a cored wire needs its mass per metre"},
    {"grams_per_metre", "grams_per_meter mass g_per_m grams mass_per_metre wire_mass",
     CALC_QUANTITY, DIM_LINE_MASS, "g/m", NULL, NULL, 0,
     "of cored wire, core included: weigh a metre"},
    {"process", NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "ISO 4063 number, for its usual efficiency"},
    {"run_out", "wire_length", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "length of wire run out in that time"},
    {"time", NULL, CALC_QUANTITY, DIM_TIME, "s", NULL, "6 s", READING_SECOND,
     "how long it ran; in 6 s, inches × 10 are in/min"},
    {"bead", "bead_length", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "length of bead a coupon carries, all passes, for its wire"},
    {"arc_time", NULL, CALC_QUANTITY, DIM_TIME, "s", NULL, NULL, READING_SECOND,
     "arc-on time of a coupon, for its wire"},
    {"table", "calibration", CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "measured feed by dial position: \"2: 4.1m/min; 4: 7.9m/min ± 0.2\""},
    {"machine", NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "its readings in the book are the table"},
    {"dial", NULL, CALC_QUANTITY, DIM_NUMBER, NULL, NULL, NULL, 0, "dial position to read off"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

enum {
    OUT_DEPOSITED,
    OUT_MELTED,
    OUT_AREA,
    OUT_BEAD_MASS,
    OUT_EQUAL_LEG,
    OUT_FEED,
    OUT_EFFICIENCY,
    OUT_WIRE_MASS,
    OUT_PER_KG,
    OUT_PER_LB,
    OUT_COUPON_WIRE,
    OUT_COUPON_MASS,
};

#define DENSITY "density of steel 0.283 lb/in³ (7833.4 kg/m³)"

static const struct calc_output outputs[] = {
    {"deposition_kg_per_h", "Deposition", DIM_MASS_RATE, "kg/h", "deposition_lb_per_h", "lb/h",
     "mass per length · feed · η; 13.34·D²·feed·η lb/h for D in inches and feed in in/min",
     DENSITY},
    {"melted_kg_per_h", "Wire melted", DIM_MASS_RATE, "kg/h", "melted_lb_per_h", "lb/h",
     "mass per length · feed", DENSITY},
    {"bead_area_mm2", "Area of the bead", DIM_AREA, "mm2", "bead_area_in2", "in2",
     "(π/4)·D²·feed·η/travel; cored: mass per length · feed · η/(density · travel)", "geometry"},
    {"bead_mass_kg_per_m", "Weld metal per length", DIM_LINE_MASS, "kg/m", "bead_mass_lb_per_ft",
     "lb/ft", "mass per length · feed · η/travel", DENSITY},
    {"equal_leg_mm", "Leg of a flat equal fillet of that area", DIM_LENGTH, "mm", "equal_leg_in",
     "in", "√(2·area)", "geometry"},
    {"feed_m_per_min", "Wire feed", DIM_SPEED, "m/min", "feed_in_per_min", "in/min",
     "as given; length/time; straight line between dial positions, ± √{[(1−w)·u₀]² + [w·u₁]² + "
     "[w·(1−w)/2·h²·f″]²}",
     "common practice; JCGM 100:2008 5.1.2"},
    {"efficiency_pct", "Deposition efficiency", DIM_SHARE, "%", NULL, NULL,
     "as given; usual for the process", "filler-metal consumption tables"},
    {"wire_mass_g_per_m", "Mass of the wire", DIM_LINE_MASS, "g/m", "wire_mass_lb_per_ft", "lb/ft",
     "(π/4)·D²·density; cored: as weighed", DENSITY},
    {"wire_m_per_kg", "Wire in a kilogram", DIM_NUMBER, "m/kg", NULL, NULL, "1/mass per length",
     DENSITY},
    {"wire_in_per_lb", "Wire in a pound", DIM_NUMBER, "in/lb", NULL, NULL, "1/mass per length",
     DENSITY},
    {"coupon_wire_m", "Wire for the coupon", DIM_LENGTH, "m", "coupon_wire_in", "in",
     "feed · bead/travel; feed · arc time", "by definition"},
    {"coupon_wire_kg", "Mass of that wire", DIM_MASS, "kg", "coupon_wire_lb", "lb",
     "length · mass per length", DENSITY},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

static bool is_cored(const struct calc_work *w)
{
    return w->in[KIND] > 0.5;
}

static struct wire wire_of(const struct calc_work *w)
{
    return is_cored(w) ? wire_cored((struct mm){w->in[DIAMETER]}, (struct g_per_m){w->in[MASS]})
                       : wire_solid((struct mm){w->in[DIAMETER]});
}

/* The feed read off the dial's table takes the place of one given, its ± with it. */
static int prepare(struct calc_inputs *in, struct error *e)
{
    struct feed_answer read;

    if (in->text[TABLE] == NULL && in->text[MACHINE] != NULL)
        return error_set(e, ERROR_USAGE, "machine: there is no book here; give table instead");
    if (in->text[TABLE] == NULL)
        return 0;
    if (isnan(in->value[DIAL]))
        return error_set(e, ERROR_USAGE, "table: say the dial position to read off, dial=3");
    if (calc_feed_table(in->text[TABLE], in->value[DIAL], &read, e) != 0)
        return -1;
    in->value[FEED] = read.feed.v;
    in->error[FEED] = read.error.v;
    return 0;
}

/* Why the table says nothing of this dial position; NULL when it does. */
static const char *beyond_table(const struct calc_work *w)
{
    struct feed_answer read;
    struct error e;

    if (w->text[TABLE] == NULL || calc_feed_table(w->text[TABLE], w->in[DIAL], &read, &e) != 0)
        return NULL;
    return read.outside;
}

/* Share of one: as given, or usual for the process (MAG for solid, with gas for cored wire). */
static int efficiency_of(const struct calc_work *w, double *share, struct error *e)
{
    const struct heat_process *p;
    const struct wire_efficiency *usual;

    if (calc_process(w->text[PROCESS], &p, e) != 0)
        return -1;
    usual = wire_efficiency_find(p != NULL ? p->iso4063 : is_cored(w) ? 136 : 135);
    *share = !isnan(w->in[EFFICIENCY]) ? w->in[EFFICIENCY] / 100
             : usual == NULL           ? NAN
                                       : usual->usual;
    return 0;
}

static void coupon_work(struct calc_work *w, struct wire wire, double feed)
{
    double seconds = isnan(w->in[ARC]) ? w->in[BEAD] / (w->in[SPEED] / 60) : w->in[ARC];

    w->out[OUT_COUPON_WIRE] = wire_run_out((struct mm_per_min){feed}, (struct seconds){seconds}).v;
    w->out[OUT_COUPON_MASS] = w->out[OUT_COUPON_WIRE] * wire.mass.v / 1e6;
}

static void deposit_work(struct calc_work *w, struct wire wire, double feed, double efficiency)
{
    struct deposit d = wire_deposit(wire, (struct mm_per_min){feed}, efficiency,
                                    (struct mm_per_min){w->in[SPEED]});

    w->out[OUT_DEPOSITED] = d.deposited.v;
    w->out[OUT_MELTED] = d.melted.v;
    w->out[OUT_AREA] = d.bead_area.v;
    w->out[OUT_BEAD_MASS] = d.bead_mass.v;
    w->out[OUT_EQUAL_LEG] = sqrt(2 * d.bead_area.v);
    w->out[OUT_EFFICIENCY] = 100 * efficiency;
    w->why[OUT_DEPOSITED] = d.outside;
}

static void wire_work(struct calc_work *w, struct wire wire)
{
    w->out[OUT_WIRE_MASS] = wire.mass.v;
    w->out[OUT_PER_KG] = wire_length_per_kg(wire).v / 1000;
    w->out[OUT_PER_LB] = wire_length_per_kg(wire).v * 0.45359237 / 25.4;
}

static int work(struct calc_work *w, struct error *e)
{
    struct wire wire = wire_of(w);
    double feed = w->in[FEED], efficiency = NAN;

    if (efficiency_of(w, &efficiency, e) != 0)
        return -1;
    if (isnan(feed))
        feed = wire_feed_timed((struct mm){w->in[RUN_OUT]}, (struct seconds){w->in[TIME]}).v;
    w->out[OUT_FEED] = feed;
    w->why[OUT_FEED] = beyond_table(w);
    if (is_cored(w) && isnan(w->in[MASS])) {
        w->want[OUT_DEPOSITED] = "a cored wire needs grams_per_metre: its core is not steel";
        return 0;
    }
    wire_work(w, wire);
    if (isnan(feed) || (isnan(wire.mass.v) && isnan(w->in[DIAMETER])))
        return 0;
    coupon_work(w, wire, feed);
    if (isnan(efficiency))
        w->want[OUT_DEPOSITED] = "no usual efficiency is known for this process: say it";
    else
        deposit_work(w, wire, feed, efficiency);
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    calc_note_inert_gas(w->text[PROCESS], a);
    if (!isnan(w->out[OUT_DEPOSITED])) {
        calc_note(a, "Masses with the exact density of steel, 0.283 lb/in³; tables that print "
                     "13.1·D²·feed·η lb/h have rounded 13.34.");
        if (isnan(w->in[EFFICIENCY]))
            calc_note(a, "Efficiency not said: %.0f %%, usual for the process, was taken.",
                      w->out[OUT_EFFICIENCY]);
    }
}

const struct calc_kind calc_wire = {
    .name = "wire",
    .either = "feed|run_out dial; run_out|dial",
    .summary = "Bead, deposition, wire feed and wire per coupon",
    .needs =
        "diameter and feed (or run_out and time, or table and dial); cored wire: grams_per_metre",
    .range = "all readings above 0, efficiency above 0 and up to 100 %; a dial within its table",
    .arguments = arguments,
    .outputs = outputs,
    .example = "diameter=1.2 feed=5 efficiency=0.95 speed=300",
    .prepare = prepare,
    .work = work,
    .say = say,
};
