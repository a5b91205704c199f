/*
 * calc bend: angle, elongation, springback, and the limits of guided-bend and fillet-break
 * specimens.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_bendlimits.h"
#include "app/calc_work.h"
#include "weld/bendtest.h"
#include "weld/uncertainty.h"

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

static const struct calc_argument arguments[] = {
    {"before", "included_before", CALC_QUANTITY, DIM_ANGLE, "deg", NULL, NULL, 1,
     "included angle before folding; 180° for a flat plate, about 90° for a tee"},
    {"after", "included_after included", CALC_QUANTITY, DIM_ANGLE, "deg", NULL, NULL, 1,
     "included angle after folding"},
    {"gap", "gap_after", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "between the tips of the legs after folding; with leg, in place of the angle"},
    {"gap_before", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "between the tips of the legs before folding"},
    {"leg", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "from the corner to the tip of a leg, both alike"},
    {"thickness", "t", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM, "plate"},
    {"radius", "r", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "inside radius of the bend"},
    {"former", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "diameter of the former it was folded about"},
    {"yield", NULL, CALC_QUANTITY, DIM_STRESS, "MPa", NULL, NULL, 0, "for springback"},
    {"modulus", "e", CALC_QUANTITY, DIM_STRESS, "MPa", NULL, "205000 MPa", 0,
     "modulus of elasticity, for springback"},
    {"gauge_before", "x", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "free bend: between the gauge marks before"},
    {"gauge_after", "y", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "free bend: along the curve after"},
    {"flaws", "discontinuities", CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "guided bend: sizes on the convex face, \"2.5mm; 1.2mm\", all in mm or all in inch; none: "
     "0mm"},
    {"corners", NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "guided bend: corner cracks, \"5mm slag; 4mm clean\""},
    {"pores", "inclusions", CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "fillet break: sizes of inclusions and pores on the face, as flaws"},
    {"folded_flat", NULL, CALC_CHOICE, DIM_NUMBER, NULL, "no|yes", "no", 0,
     "fillet break: it folded flat without breaking"},
    {"fused_to_root", NULL, CALC_CHOICE, DIM_NUMBER, NULL, "no|yes", NULL, 0,
     "fillet break: the face shows fusion to the root all along"},
    {"specimen", NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "fillet break: length of the specimen; 150mm or 6in when not said"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
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

static const struct calc_output outputs[] = {
    {"bend_angle_deg", "Bend angle", DIM_ANGLE, "deg", NULL, NULL, "|included after − before|",
     "a rule of our own; from flat it is the 180° − included angle of ISO 7438 6.3 and ISO 5173"},
    {"included_before_deg", "Included angle before", DIM_ANGLE, "deg", NULL, NULL,
     "2·asin(gap/(2·leg))", "geometry"},
    {"included_after_deg", "Included angle after", DIM_ANGLE, "deg", "included_angle_deg", "deg",
     "2·asin(gap/(2·leg))", "geometry"},
    {"outer_strain_pct", "Elongation of the outer fibre", DIM_SHARE, "%", NULL, NULL,
     "100·t/(2R + t)", "ASME IX QW-466.1 note b"},
    {"inside_radius_mm", "Inside radius", DIM_LENGTH, "mm", "inside_radius_in", "in",
     "as given; former/2", "geometry"},
    {"springback_ratio", "Springback, radius in the tool over radius let go", DIM_NUMBER, "", NULL,
     NULL, "4X³ − 3X + 1, X = R₀·Y/(E·t)", "Kalpakjian & Schmid [from memory]"},
    {"radius_after_mm", "Radius let go", DIM_LENGTH, "mm", "radius_after_in", "in",
     "R₀/springback ratio", "Kalpakjian & Schmid [from memory]"},
    {"free_bend_elongation_pct", "Elongation of the free bend", DIM_SHARE, "%", NULL, NULL,
     "100·(Y − X)/X", "US Army OD1651, Navy NAVEDTRA 14250"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
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

static struct bend_limit_lists lists_of(const struct calc_work *w)
{
    return (struct bend_limit_lists){
        .flaws = w->text[FLAWS],
        .corners = w->text[CORNERS],
        .pores = w->text[PORES],
        .specimen = w->text[SPECIMEN],
        .folded_flat = choice_is_yes(w, FOLDED),
        .fused_to_root = choice_is_yes(w, FUSED),
        .face_seen = !isnan(w->in[FUSED]) || choice_is_yes(w, FOLDED),
    };
}

static int work(struct calc_work *w, struct error *e)
{
    struct bend_limit_lists lists = lists_of(w);
    struct bend_limit_verdicts verdicts;

    angle_work(w);
    strain_work(w);
    free_bend_work(w);
    return bend_limits_judge(&lists, &verdicts, e);
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    struct bend_limit_lists lists = lists_of(w);
    struct bend_limit_verdicts verdicts;
    struct error e;

    if (bend_limits_judge(&lists, &verdicts, &e) == 0)
        bend_limits_say(&verdicts, a);
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
    .arguments = arguments,
    .outputs = outputs,
    .example = "before=90 gap=110 leg=60 thickness=6 former=24",
    .permission = true,
    .work = work,
    .say = say,
};
