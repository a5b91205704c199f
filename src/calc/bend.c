/*
 * calc bend: angle, elongation, springback, and the limits of guided-bend and fillet-break
 * specimens. Sizes held against a limit stay in the system they came in.
 */
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "calc/answer.h"
#include "weld/bendlimits.h"
#include "weld/bendtest.h"

enum {
    BEFORE,
    AFTER,
    GAP,
    GAP_BEFORE,
    LEG,
    THICKNESS,
    RADIUS,
    FORMER,
    YIELD,
    MODULUS,
    GAUGE_BEFORE,
    GAUGE_AFTER,
    FLAWS,
    CORNERS,
    PORES,
    FOLDED,
    FUSED,
    SPECIMEN
};

enum {
    OUT_ANGLE,
    OUT_BEFORE,
    OUT_AFTER,
    OUT_STRAIN,
    OUT_RADIUS,
    OUT_SPRINGBACK,
    OUT_RADIUS_AFTER,
    OUT_FREE
};

/* Included angle before: as said, from its gap, or flat. */
static struct degree included_before(const struct calc_work *w)
{
    if (!isnan(w->in[BEFORE]))
        return (struct degree){w->in[BEFORE]};
    if (!isnan(w->in[GAP_BEFORE]))
        return bend_included_from_gap((struct mm){w->in[GAP_BEFORE]}, (struct mm){w->in[LEG]});
    return (struct degree){180};
}

static void angle_work(struct calc_work *w)
{
    bool gap = isnan(w->in[AFTER]) && !isnan(w->in[GAP]) && !isnan(w->in[LEG]);
    struct degree after = {w->in[AFTER]};
    struct bend_angle a;

    if (gap)
        after = bend_included_from_gap((struct mm){w->in[GAP]}, (struct mm){w->in[LEG]});
    else if (isnan(after.v))
        return;
    a = bend_from_included(included_before(w), after);
    w->out[OUT_ANGLE] = a.angle.v;
    w->out[OUT_BEFORE] = a.included_before.v;
    w->out[OUT_AFTER] = a.included_after.v;
    if (a.outside != NULL)
        w->why[OUT_ANGLE] =
            gap ? "the gap between the tips lies between 0 and twice the leg" : a.outside;
}

static void strain_work(struct calc_work *w)
{
    double radius = isnan(w->in[RADIUS]) ? w->in[FORMER] / 2 : w->in[RADIUS];
    struct bend_springback s;
    struct bend_strain e;

    if (isnan(radius) || isnan(w->in[THICKNESS]))
        return;
    e = bend_outer_strain((struct mm){w->in[THICKNESS]}, (struct mm){radius});
    w->out[OUT_STRAIN] = e.elongation.v;
    w->out[OUT_RADIUS] = radius;
    w->why[OUT_STRAIN] = e.outside;
    if (isnan(w->in[YIELD]))
        return;
    s = bend_springback((struct mm){radius}, (struct mm){w->in[THICKNESS]},
                        (struct mpa){w->in[YIELD]}, (struct mpa){w->in[MODULUS]});
    w->out[OUT_SPRINGBACK] = s.ratio;
    w->out[OUT_RADIUS_AFTER] = s.radius_after.v;
    w->why[OUT_SPRINGBACK] = s.outside;
}

static void free_bend_work(struct calc_work *w)
{
    struct bend_strain e;

    if (isnan(w->in[GAUGE_BEFORE]) || isnan(w->in[GAUGE_AFTER]))
        return;
    e = bend_free_elongation((struct mm){w->in[GAUGE_BEFORE]}, (struct mm){w->in[GAUGE_AFTER]});
    w->out[OUT_FREE] = e.elongation.v;
    w->why[OUT_FREE] = e.outside;
}

static bool choice_is_yes(const struct calc_work *w, size_t row)
{
    return w->in[row] > 0.5;
}

/* A list of sizes; for corner cracks with what shows in them. */
struct sizes {
    const char *key; /* of the argument */
    int *system;     /* enum unit_system of all lists, or SYSTEM_OPEN */
    double at[CALC_ITEMS];
    struct corner_crack corners[CALC_ITEMS];
    size_t count;
};

enum { SYSTEM_OPEN = -1 }; /* no size has been read */

/* The length at `text`, in the system it is written in; a mixture is refused. */
static int read_size(const char *key, const char *text, int *system, double *size, struct error *e)
{
    struct calc_reading r;
    int given;

    if (calc_read(&(struct calc_argument){.key = key, .dimension = DIM_LENGTH}, text, &r, e) != 0)
        return -1;
    if (r.value < 0)
        return error_set(e, ERROR_INPUT, "%s: a size is 0 or more, not %s", key, text);
    given = strcmp(r.unit->key, "in") == 0 || strcmp(r.unit->key, "ft") == 0 ||
                    strcmp(r.unit->key, "mil") == 0
                ? UNITS_INCH
                : UNITS_METRIC;
    if (*system != SYSTEM_OPEN && *system != given)
        return error_set(e, ERROR_INPUT,
                         "%s: sizes in mm and in inch are judged by different limits; write all in "
                         "one of them",
                         key);
    *system = given;
    *size = given == UNITS_INCH ? r.value / 25.4 : r.value;
    return 0;
}

static int read_item(char *item, void *context, struct error *e)
{
    struct sizes *s = context;
    char *size = calc_list_word(&item), *word = calc_list_word(&item);
    struct corner_crack *c = &s->corners[s->count];

    if (calc_list_word(&item) != NULL || (word != NULL && !text_same(word, "slag") &&
                                          !text_same(word, "fusion") && !text_same(word, "clean")))
        return error_set(e, ERROR_INPUT,
                         "%s: behind the size stands one word, slag, fusion or clean, not '%s'",
                         s->key, word);
    if (read_size(s->key, size, s->system, &c->size, e) != 0)
        return -1;
    c->from_flaw = word != NULL && !text_same(word, "clean");
    s->at[s->count++] = c->size;
    return 0;
}

struct verdicts {
    bool guided, fillet; /* which were asked */
    enum unit_system system;
    struct limit_answer guided_bend, fillet_break;
};

static int judge(const struct calc_work *w, struct verdicts *out, struct error *e)
{
    int system = SYSTEM_OPEN;
    struct sizes flaws = {.key = "flaws", .system = &system},
                 corners = {.key = "corners", .system = &system},
                 pores = {.key = "pores", .system = &system};
    double length = NAN; /* that of the code */

    memset(out, 0, sizeof *out);
    if (calc_list_read("flaws", w->text[FLAWS], read_item, &flaws, e) != 0 ||
        calc_list_read("corners", w->text[CORNERS], read_item, &corners, e) != 0 ||
        calc_list_read("pores", w->text[PORES], read_item, &pores, e) != 0 ||
        (w->text[SPECIMEN] != NULL &&
         read_size("specimen", w->text[SPECIMEN], &system, &length, e) != 0))
        return -1;
    out->system = system == UNITS_INCH ? UNITS_INCH : UNITS_METRIC;
    out->guided = w->text[FLAWS] != NULL || w->text[CORNERS] != NULL;
    out->fillet = !isnan(w->in[FUSED]) || choice_is_yes(w, FOLDED);
    if (w->text[PORES] != NULL && !out->fillet)
        return error_set(e, ERROR_USAGE,
                         "pores: say fused_to_root=yes or fused_to_root=no as well");
    out->guided_bend =
        guided_bend(out->system, flaws.at, flaws.count, corners.corners, corners.count);
    out->fillet_break = fillet_break(out->system, choice_is_yes(w, FOLDED), choice_is_yes(w, FUSED),
                                     pores.at, pores.count, length);
    return 0;
}

static int work(struct calc_work *w, struct error *e)
{
    struct verdicts verdicts;

    angle_work(w);
    strain_work(w);
    free_bend_work(w);
    return judge(w, &verdicts, e);
}

static void say_verdict(struct calc_answer *a, const char *key, const char *label,
                        const struct limit_answer *l, const char *source, enum unit_system system)
{
    static const char *const words[] = {
        [LIMIT_PASS] = "pass",
        [LIMIT_FAIL] = "fail",
        [LIMIT_NEW_SPECIMEN] = "new specimen",
        [LIMIT_OUTSIDE] = "outside the range of the limits",
    };

    calc_word(a, key, label, words[l->verdict]);
    calc_note(a, "%s, %s limits: %s.", source, system == UNITS_INCH ? "inch" : "mm", l->why);
}

static void say_limits(const struct calc_work *w, struct calc_answer *a)
{
    struct verdicts v;
    struct error e;

    if (judge(w, &v, &e) != 0)
        return;
    if (v.guided)
        say_verdict(a, "guided_bend", "Guided bend", &v.guided_bend, "AWS D1.1:2015 4.9.3.3",
                    v.system);
    if (v.fillet)
        say_verdict(a, "fillet_break", "Fillet break", &v.fillet_break, "AWS D1.1:2010 4.31.4.1",
                    v.system);
    if (v.guided || v.fillet)
        calc_note(a, "Check your own copy of the code: the limits belong to specimens made to it.");
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    say_limits(w, a);
    if (!isnan(w->out[OUT_ANGLE]) && isnan(w->in[BEFORE]) && isnan(w->in[GAP_BEFORE]))
        calc_note(a, "Counted from flat (180°); say before=90 for a tee or corner coupon.");
    if (!isnan(w->out[OUT_ANGLE])) {
        calc_note(a,
                  "No standard defines the angle, or a limit for it, for tee and corner coupons: "
                  "it compares techniques, it passes none.");
        if (isnan(w->out[OUT_STRAIN]))
            calc_note(a, "An angle is no strain: the elongation needs a former or inside radius.");
    }
}

const struct calc_kind calc_bend = {
    .name = "bend",
    .either = "after|gap; before|gap_before; radius|former",
    .summary = "Bend angle, elongation, springback, limits of bend specimens",
    .needs = "after (or gap and leg); thickness with radius or former; gauge_before and "
             "gauge_after; flaws; or pores with fused_to_root",
    .range = "included angles 0° to 360°, gap up to twice the leg, thickness above 0",
    /* clang-format off */
    .arguments = {
        [BEFORE] = {.key = "before", .also = "included_before", .dimension = DIM_ANGLE, .error = 1,
            .help = "included angle before folding; 180° for a flat plate, about 90° for a tee"},
        [AFTER] = {.key = "after", .also = "included_after included", .dimension = DIM_ANGLE,
            .error = 1, .help = "included angle after folding"},
        [GAP] = {.key = "gap", .also = "gap_after", BY_RULE,
            .help = "between the tips of the legs after folding; with leg, in place of the angle"},
        [GAP_BEFORE] = {.key = "gap_before", BY_RULE,
            .help = "between the tips of the legs before folding"},
        [LEG] = {.key = "leg", BY_RULE, .help = "from the corner to the tip of a leg, both alike"},
        [THICKNESS] = {.key = "thickness", .also = "t", BY_CALLIPER, .help = "plate"},
        [RADIUS] = {.key = "radius", .also = "r", BY_RULE, .help = "inside radius of the bend"},
        [FORMER] = {.key = "former", BY_CALLIPER,
            .help = "diameter of the former it was folded about"},
        [YIELD] = {.key = "yield", .dimension = DIM_STRESS, .help = "for springback"},
        [MODULUS] = {.key = "modulus", .also = "e", .dimension = DIM_STRESS, .usual = "205000 MPa",
            .help = "modulus of elasticity, for springback"},
        [GAUGE_BEFORE] = {.key = "gauge_before", .also = "x", BY_CALLIPER,
            .help = "free bend: between the gauge marks before"},
        [GAUGE_AFTER] = {.key = "gauge_after", .also = "y", BY_CALLIPER,
            .help = "free bend: along the curve after"},
        [FLAWS] = {.key = "flaws", .also = "discontinuities", .type = CALC_TEXT,
            .help = "guided bend: sizes on the convex face, \"2.5mm; 1.2mm\", all in mm or all in "
            "inch; none: 0mm"},
        [CORNERS] = {.key = "corners", .type = CALC_TEXT,
            .help = "guided bend: corner cracks, \"5mm slag; 4mm clean\""},
        [PORES] = {.key = "pores", .also = "inclusions", .type = CALC_TEXT,
            .help = "fillet break: sizes of inclusions and pores on the face, as flaws"},
        [FOLDED] = {.key = "folded_flat", .type = CALC_CHOICE, .choices = "no|yes", .usual = "no",
            .help = "fillet break: it folded flat without breaking"},
        [FUSED] = {.key = "fused_to_root", .type = CALC_CHOICE, .choices = "no|yes",
            .help = "fillet break: the face shows fusion to the root all along"},
        [SPECIMEN] = {.key = "specimen", .type = CALC_TEXT,
            .help = "fillet break: length of the specimen; 150mm or 6in when not said"},
    },
    .outputs = {
        [OUT_ANGLE] = {.card = true, .key = "bend_angle_deg", .label = "Bend angle", .dimension = DIM_ANGLE,
            .formula = "|included after − before|",
            .source = "a rule of our own; from flat it is the 180° − included angle of ISO 7438 "
            "6.3 and ISO 5173"},
        [OUT_BEFORE] = {.key = "included_before_deg", .label = "Included angle before",
            .dimension = DIM_ANGLE, .formula = "2·asin(gap/(2·leg))", .source = "geometry"},
        [OUT_AFTER] = {.key = "included_after_deg", .label = "Included angle after",
            .dimension = DIM_ANGLE, .twin_key = "included_angle_deg",
            .formula = "2·asin(gap/(2·leg))", .source = "geometry"},
        [OUT_STRAIN] = {.card = true, IN_PERCENT("outer_strain"), .label = "Elongation of the outer fibre",
            .formula = "100·t/(2R + t)", .source = "ASME IX QW-466.1 note b"},
        [OUT_RADIUS] = {IN_MM("inside_radius"), .label = "Inside radius",
            .formula = "as given; former/2", .source = "geometry"},
        [OUT_SPRINGBACK] = {.key = "springback_ratio",
            .label = "Springback, radius in the tool over radius let go",
            .formula = "4X³ − 3X + 1, X = R₀·Y/(E·t)",
            .source = "Kalpakjian & Schmid [from memory]"},
        [OUT_RADIUS_AFTER] = {IN_MM("radius_after"), .label = "Radius let go",
            .formula = "R₀/springback ratio", .source = "Kalpakjian & Schmid [from memory]"},
        [OUT_FREE] = {IN_PERCENT("free_bend_elongation"), .label = "Elongation of the free bend",
            .formula = "100·(Y − X)/X", .source = "US Army OD1651, Navy NAVEDTRA 14250"},
    },
    /* clang-format on */
    .example = "before=90 gap=110 leg=60 thickness=6 former=24",
    .permission = true,
    .work = work,
    .say = say,
};
