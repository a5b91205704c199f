/*
 * calc wire: bead, deposition, feed by the timed length, the dial's calibration, wire a coupon
 * takes.
 */
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "calc/answer.h"
#include "model/variable_key.h"
#include "weld/feedtable.h"
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

static bool is_cored(const struct calc_work *w)
{
    return w->in[KIND] > 0.5;
}

static struct wire wire_of(const struct calc_work *w)
{
    return is_cored(w) ? wire_cored((struct mm){w->in[DIAMETER]}, (struct g_per_m){w->in[MASS]})
                       : wire_solid((struct mm){w->in[DIAMETER]});
}

struct points {
    struct feed_point at[CALC_ITEMS];
    size_t count;
};

static int read_point(char *item, void *context, struct error *e)
{
    struct calc_argument row = {.key = "table", .dimension = DIM_SPEED, .unit = "m/min"};
    char *colon = strchr(item, ':'), *sign = strstr(item, "±"), *plain = strstr(item, "+-");
    struct points *points = context;
    struct feed_point *p = &points->at[points->count++];
    struct calc_reading feed, error;
    const char *end;
    double dial;

    if (colon == NULL || !text_number(item, &end, &dial) || end + strspn(end, " ") != colon)
        return error_set(e, ERROR_INPUT, "table: '%s' is no point; write 4: 7.9m/min", item);
    sign = sign != NULL ? sign : plain;
    if (sign != NULL)
        *sign = '\0';
    if (calc_read(&row, text_trim(colon + 1), &feed, e) != 0)
        return -1;
    if (!(feed.value > 0))
        return error_set(e, ERROR_INPUT, "table: a measured feed is above 0");
    *p = feed_point_usual(dial, (struct mm_per_min){feed.value});
    row.unit = feed.unit->key; /* a bare ± is in the unit of its feed */
    if (sign != NULL && calc_read(&row, text_trim(sign + 2), &error, e) != 0)
        return -1;
    if (sign != NULL)
        p->error.v = fabs(error.value);
    return 0;
}

/* "2: 4.1m/min; 4: 7.9m/min ± 0.2": the feed at a dial position. A bare feed is in m/min; a ± that
 * is not said is that of a 6 s run. */
static int read_table(const char *table, double dial, struct feed_answer *out, struct error *e)
{
    struct points points = {.count = 0};

    if (calc_list_read("table", table, read_point, &points, e) != 0)
        return -1;
    *out = feed_table_at(points.at, feed_table_sort(points.at, points.count), dial);
    return 0;
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
    if (read_table(in->text[TABLE], in->value[DIAL], &read, e) != 0)
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

    if (w->text[TABLE] == NULL || read_table(w->text[TABLE], w->in[DIAL], &read, &e) != 0)
        return NULL;
    return read.outside;
}

/* Share of one: as given, or usual for the process (MAG for solid, with gas for cored wire). */
static int efficiency_of(const struct calc_work *w, double *share, struct error *e)
{
    const struct heat_process *p;

    if (calc_process(w->text[PROCESS], &p, e) != 0)
        return -1;
    if (p == NULL)
        p = heat_process_find(is_cored(w) ? 136 : 135);
    *share = isnan(w->in[EFFICIENCY]) ? p->wire_efficiency : w->in[EFFICIENCY] / 100;
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
    calc_process_note(w->text[PROCESS], a);
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
    /* clang-format off */
    .arguments = {
        [DIAMETER] = {.key = "diameter", .also = "d", .dimension = DIM_LENGTH,
            .limits = KEY_WIRE_DIAMETER, .help = "of the wire, as on the spool"},
        [FEED] = {.key = "feed", .also = "wfs wire_feed_speed", .dimension = DIM_SPEED,
            .unit = "m/min", .limits = KEY_WIRE_FEED_SPEED,
            .help = "wire feed speed; or run_out and time; or table and dial"},
        [EFFICIENCY] = {.key = "efficiency", .also = "eta", .dimension = DIM_SHARE,
            .help = "weld metal over wire melted, 0.95 or 95%; else the usual one of the process"},
        [SPEED] = {.key = "speed", .also = "travel travel_speed", .dimension = DIM_SPEED,
            .limits = KEY_TRAVEL_SPEED, .help = "travel speed, for the bead"},
        [KIND] = {.key = "kind", .type = CALC_CHOICE, .choices = "solid|cored", .usual = "solid",
            .help = "a cored wire needs its mass per metre"},
        [MASS] = {.key = "grams_per_metre",
            .also = "grams_per_meter mass g_per_m grams mass_per_metre wire_mass",
            .dimension = DIM_LINE_MASS, .help = "of cored wire, core included: weigh a metre"},
        [PROCESS] = {.key = "process", .type = CALC_TEXT,
            .help = "ISO 4063 number, for its usual efficiency"},
        [RUN_OUT] = {.key = "run_out", .also = "wire_length", BY_RULE,
            .help = "length of wire run out in that time"},
        [TIME] = {.key = "time", .dimension = DIM_TIME, .usual = "6 s", .error = READING_SECOND,
            .help = "how long it ran; in 6 s, inches × 10 are in/min"},
        [BEAD] = {.key = "bead", .also = "bead_length", BY_RULE,
            .help = "length of bead a coupon carries, all passes, for its wire"},
        [ARC] = {.key = "arc_time", .dimension = DIM_TIME, .error = READING_SECOND,
            .help = "arc-on time of a coupon, for its wire"},
        [TABLE] = {.key = "table", .also = "calibration", .type = CALC_TEXT,
            .help = "measured feed by dial position: \"2: 4.1m/min; 4: 7.9m/min ± 0.2\""},
        [MACHINE] = {.key = "machine", .type = CALC_TEXT,
            .help = "its readings in the book are the table"},
        [DIAL] = {.key = "dial", .help = "dial position to read off"},
    },
    .outputs = {
        [OUT_DEPOSITED] = {.key = "deposition_kg_per_h", .label = "Deposition",
            .dimension = DIM_MASS_RATE, .twin_key = "deposition_lb_per_h",
            .formula = "mass per length · feed · η; 13.34·D²·feed·η lb/h for D in inches and feed "
            "in in/min", .source = DENSITY},
        [OUT_MELTED] = {.key = "melted_kg_per_h", .label = "Wire melted",
            .dimension = DIM_MASS_RATE, .twin_key = "melted_lb_per_h",
            .formula = "mass per length · feed", .source = DENSITY},
        [OUT_AREA] = {.key = "bead_area_mm2", .label = "Area of the bead", .dimension = DIM_AREA,
            .twin_key = "bead_area_in2",
            .formula = "(π/4)·D²·feed·η/travel; cored: mass per length · feed · η/(density · "
            "travel)", .source = "geometry"},
        [OUT_BEAD_MASS] = {.key = "bead_mass_kg_per_m", .label = "Weld metal per length",
            .dimension = DIM_LINE_MASS, .unit = "kg/m", .twin_key = "bead_mass_lb_per_ft",
            .formula = "mass per length · feed · η/travel", .source = DENSITY},
        [OUT_EQUAL_LEG] = {IN_MM("equal_leg"), .label = "Leg of a flat equal fillet of that area",
            .formula = "√(2·area)", .source = "geometry"},
        [OUT_FEED] = {.key = "feed_m_per_min", .label = "Wire feed", .dimension = DIM_SPEED,
            .unit = "m/min", .twin_key = "feed_in_per_min",
            .formula = "as given; length/time; straight line between dial positions, ± "
            "√{[(1−w)·u₀]² + [w·u₁]² + [w·(1−w)/2·h²·f″]²}",
            .source = "common practice; JCGM 100:2008 5.1.2"},
        [OUT_EFFICIENCY] = {IN_PERCENT("efficiency"), .label = "Deposition efficiency",
            .formula = "as given; usual for the process",
            .source = "filler-metal consumption tables"},
        [OUT_WIRE_MASS] = {.key = "wire_mass_g_per_m", .label = "Mass of the wire",
            .dimension = DIM_LINE_MASS, .twin_key = "wire_mass_lb_per_ft",
            .formula = "(π/4)·D²·density; cored: as weighed", .source = DENSITY},
        [OUT_PER_KG] = {.key = "wire_m_per_kg", .label = "Wire in a kilogram", .unit = "m/kg",
            .formula = "1/mass per length", .source = DENSITY},
        [OUT_PER_LB] = {.key = "wire_in_per_lb", .label = "Wire in a pound", .unit = "in/lb",
            .formula = "1/mass per length", .source = DENSITY},
        [OUT_COUPON_WIRE] = {.key = "coupon_wire_m", .label = "Wire for the coupon",
            .dimension = DIM_LENGTH, .unit = "m", .twin_key = "coupon_wire_in",
            .formula = "feed · bead/travel; feed · arc time", .source = "by definition"},
        [OUT_COUPON_MASS] = {IN_KG("coupon_wire"), .label = "Mass of that wire",
            .formula = "length · mass per length", .source = DENSITY},
    },
    /* clang-format on */
    .example = "diameter=1.2 feed=5 efficiency=0.95 speed=300",
    .prepare = prepare,
    .work = work,
    .say = say,
};
