/*
 * calc hinge: does the plate fold before the weld breaks; what throat that takes; and what the
 * user's own coupons say about the strength their technique reaches.
 */
#include <math.h>

#include "base/text.h"
#include "calc/answer.h"
#include "weld/fillet.h"
#include "weld/hinge.h"

enum {
    THICKNESS,
    LEG,
    LEG1,
    LEG2,
    THROAT,
    UNFUSED,
    YIELD,
    STRENGTH,
    SIDES,
    OPENING,
    RATIO,
    COUPONS
};

enum {
    OUT_RATIO,
    OUT_PLATE,
    OUT_WELD,
    OUT_THROAT,
    OUT_FUSED,
    OUT_NEEDED,
    OUT_LEG_NEEDED,
    OUT_STRENGTH_NEEDED,
    OUT_AT_LEAST,
    OUT_AT_MOST
};

#define WRITTEN(value) #value
#define MPA(value) WRITTEN(value) " MPa"
#define PLASTIC "plastic hinge of a rectangular section"
#define FILLET_FORCE "EN 1993-1-8 4.5.3.2 for F = fw·a/√2 [from memory]"

/* A leg of an equal or an unequal fillet. */
static double leg_of(const struct calc_work *w, size_t row)
{
    return isnan(w->in[LEG]) ? w->in[row] : w->in[LEG];
}

static double throat_of(const struct calc_work *w)
{
    if (!isnan(w->in[THROAT]))
        return w->in[THROAT];
    return fillet_from_legs((struct mm){leg_of(w, LEG1)}, (struct mm){leg_of(w, LEG2)}).throat.v;
}

static bool throat_given(const struct calc_work *w)
{
    return !isnan(w->in[THROAT]) || (!isnan(leg_of(w, LEG1)) && !isnan(leg_of(w, LEG2)));
}

static struct hinge_joint joint_of(const struct calc_work *w)
{
    return (struct hinge_joint){
        .thickness = {w->in[THICKNESS]},
        .throat = {throat_of(w)},
        .unfused = {w->in[UNFUSED]},
        .yield = {w->in[YIELD]},
        .strength = {w->in[STRENGTH]},
        .sides = (int)w->in[SIDES] + 1,
        .opening = (int)w->in[OPENING] == 0 ? HINGE_ROOT : HINGE_FACE,
    };
}

struct coupons {
    struct hinge_joint joint; /* what the arguments say of all of them */
    struct hinge_coupon at[CALC_ITEMS];
    size_t count;
};

/* "broke 6mm 4mm 1mm": how it ended, thickness, leg, unfused root. */
static int read_coupon(char *item, void *context, struct error *e)
{
    static const struct calc_argument row = {.key = "coupons", .dimension = DIM_LENGTH};
    char *how = calc_list_word(&item), *word = NULL;
    struct coupons *coupons = context;
    struct hinge_coupon *c = &coupons->at[coupons->count++];
    struct calc_reading read[3] = {{.value = 0}};
    size_t n = 0;

    if (!text_same(how, "held") && !text_same(how, "broke"))
        return error_set(e, ERROR_INPUT, "coupons: '%s' is neither broke nor held", how);
    while (n < 3 && (word = calc_list_word(&item)) != NULL)
        if (calc_read(&row, word, &read[n++], e) != 0)
            return -1;
    if (n < 2 || calc_list_word(&item) != NULL)
        return error_set(e, ERROR_INPUT,
                         "coupons: after %s come thickness, leg and, if seen, the unfused depth",
                         how);
    *c = (struct hinge_coupon){.joint = coupons->joint,
                               .held = text_same(how, "held"),
                               .moment = {NAN},
                               .thickness_error = {READING_CALIPER_MM},
                               .throat_error = {READING_MM / sqrt(2)},
                               .unfused_error = {n > 2 ? READING_MM : 0}};
    c->joint.thickness.v = read[0].value;
    c->joint.throat =
        fillet_from_legs((struct mm){read[1].value}, (struct mm){read[1].value}).throat;
    c->joint.unfused.v = read[2].value;
    return 0;
}

static int fit_work(struct calc_work *w, struct error *e)
{
    struct coupons coupons = {.joint = joint_of(w)};
    struct hinge_fit fit;

    if (calc_list_read("coupons", w->text[COUPONS], read_coupon, &coupons, e) != 0)
        return -1;
    fit = hinge_fit(coupons.at, coupons.count);
    if (coupons.count == 0 || fit.left_out > 0)
        return error_set(
            e, ERROR_INPUT,
            "coupons: thickness and leg above 0, the unfused depth less than the throat");
    w->out[OUT_AT_LEAST] = fit.held > 0 ? fit.at_least.v : NAN;
    w->out[OUT_AT_MOST] = isfinite(fit.at_most.v) ? fit.at_most.v : NAN;
    w->want[OUT_AT_LEAST] = fit.held == 0 ? "no coupon held: nothing bounds it from below" : NULL;
    w->want[OUT_AT_MOST] = fit.broke == 0 ? "no coupon broke: nothing bounds it from above" : NULL;
    if (fit.contradict)
        w->why[OUT_AT_LEAST] = w->why[OUT_AT_MOST] =
            "the coupons contradict each other: they scatter more than their readings do";
    return 0;
}

static int work(struct calc_work *w, struct error *e)
{
    struct hinge_joint joint = joint_of(w);
    struct hinge h;

    if (w->text[COUPONS] != NULL && fit_work(w, e) != 0)
        return -1;
    if (isnan(w->in[THICKNESS]))
        return 0;
    w->out[OUT_NEEDED] = hinge_throat_needed(&joint, w->in[RATIO]).v;
    w->out[OUT_LEG_NEEDED] = w->out[OUT_NEEDED] * sqrt(2);
    if (isnan(w->out[OUT_NEEDED]))
        w->why[OUT_NEEDED] = "thickness, yield, weld strength and ratio must be above 0";
    if (!throat_given(w))
        return 0;
    h = hinge_check(&joint);
    w->out[OUT_RATIO] = h.weld_to_plate;
    w->out[OUT_PLATE] = h.plate.v;
    w->out[OUT_WELD] = h.weld.v;
    w->out[OUT_THROAT] = joint.throat.v;
    w->out[OUT_FUSED] = isnan(h.weld_to_plate) ? NAN : joint.throat.v - joint.unfused.v;
    w->out[OUT_STRENGTH_NEEDED] = joint.strength.v * w->in[RATIO] / h.weld_to_plate;
    w->why[OUT_RATIO] = h.outside;
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    const struct calc_figure *ratio = calc_figure_find(a, "weld_to_plate");

    if (ratio != NULL && !isnan(ratio->value)) {
        calc_word(a, "governs", "What hinges", ratio->value < 1 ? "weld" : "plate");
        calc_word(a, "verdict", "Verdict",
                  fabs(ratio->value - 1) < ratio->error ? "too close to say: within its ± of 1"
                  : ratio->value < 1 ? "the weld hinges and breaks at a small angle"
                                     : "the plate folds before the weld breaks");
    }
    if (!isnan(w->out[OUT_NEEDED]))
        calc_note(a,
                  "It sorts coupons by what should give way; it permits no load. One-sided welds "
                  "in bending are warned of in EN 1993-1-8 4.12.");
    if (w->text[COUPONS] != NULL)
        calc_note(a,
                  "From the coupons: held says the weld reached at least the plate's moment, "
                  "broke says at most; each reading is taken at the end of its ± that says least.");
}

const struct calc_kind calc_hinge = {
    .name = "hinge",
    .either = "leg|leg1 leg2 throat; throat|leg1 leg2",
    .summary = "Where a tee coupon folds: in the plate or in the weld",
    .needs = "thickness with leg or throat; thickness alone for the throat needed; or coupons",
    .range = "a tee folded about its joint, 0 ≤ unfused < throat, throat up to twice the thickness",
    /* clang-format off */
    .arguments = {
        [THICKNESS] = {.key = "thickness", .also = "t", BY_CALLIPER,
            .help = "of the member that is folded"},
        [LEG] = {.key = "leg", .also = "z", BY_RULE, .help = "leg of an equal fillet"},
        [LEG1] = {.key = "leg1", .also = "leg_1", BY_RULE, .help = "one leg"},
        [LEG2] = {.key = "leg2", .also = "leg_2", BY_RULE, .help = "the other leg"},
        [THROAT] = {.key = "throat", .also = "a", BY_RULE, .help = "throat, in place of the legs"},
        [UNFUSED] = {.key = "unfused", .also = "u", .dimension = DIM_LENGTH, .usual = "0 mm ± 0",
            .error = READING_MM, .help = "depth of the root that is not fused"},
        [YIELD] = {.key = "yield", .also = "fy", .dimension = DIM_STRESS, .usual = MPA(HINGE_USUAL_YIELD),
            .help = "yield of the plate"},
        [STRENGTH] = {.key = "weld_strength", .also = "strength fw", .dimension = DIM_STRESS,
            .usual = MPA(HINGE_USUAL_STRENGTH), .help = "tensile strength of the weld metal"},
        [SIDES] = {.key = "sides", .type = CALC_CHOICE, .choices = "1|2", .usual = "1",
            .help = "sides that are welded"},
        [OPENING] = {.key = "opening", .type = CALC_CHOICE, .choices = "root|face", .usual = "root",
            .help = "what the fold opens: the root, or the face (the root closing)"},
        [RATIO] = {.key = "ratio", .usual = "1",
            .help = "weld over plate to reach, for the throat needed"},
        [COUPONS] = {.key = "coupons", .type = CALC_TEXT,
            .help = "your own: \"broke THICKNESS LEG [UNFUSED]; held THICKNESS LEG [UNFUSED]\"; "
            "thickness ±0.1 mm, the others ±0.5 mm"},
    },
    .outputs = {
        [OUT_RATIO] = {.card = true, .key = "weld_to_plate", .label = "Weld over plate",
            .formula = "root opening fw·a²/(fy·t²); face opening F·(t + a/(2√2)), both sides F·(t "
            "+ a/√2), over fy·t²/4", .source = PLASTIC "; " FILLET_FORCE},
        [OUT_PLATE] = {.key = "plate_moment_n_mm_per_mm",
            .label = "Moment of the plate, per length of joint", .dimension = DIM_FORCE,
            .twin_key = "plate_moment_lbf_in_per_in", .formula = "fy·t²/4", .source = PLASTIC},
        [OUT_WELD] = {.key = "weld_moment_n_mm_per_mm",
            .label = "Moment of the weld, per length of joint", .dimension = DIM_FORCE,
            .twin_key = "weld_moment_lbf_in_per_in",
            .formula = "fw·a²/4; F·(t + a/(2√2)); F·(t + a/√2)",
            .source = PLASTIC "; " FILLET_FORCE},
        [OUT_THROAT] = {IN_MM("throat"), .label = "Throat", .formula = "z₁·z₂/√(z₁² + z₂²)",
            .source = "geometry"},
        [OUT_FUSED] = {IN_MM("throat_fused"), .label = "Throat that is fused",
            .formula = "throat − unfused root", .source = "geometry"},
        [OUT_NEEDED] = {.card = true, IN_MM("throat_needed"), .label = "Throat needed",
            .formula = "weld over plate = ratio, solved for the throat",
            .source = PLASTIC "; " FILLET_FORCE},
        [OUT_LEG_NEEDED] = {IN_MM("leg_needed"), .label = "Leg needed",
            .formula = "throat needed × √2", .source = "geometry"},
        [OUT_STRENGTH_NEEDED] = {IN_MPA("weld_strength_needed"),
            .label = "Weld strength needed at this throat",
            .formula = "weld strength × ratio/(weld over plate)", .source = PLASTIC},
        [OUT_AT_LEAST] = {IN_MPA("weld_strength_at_least"),
            .label = "Strength the coupons show, at least",
            .formula = "fy·t²/4 over the weld's shape, largest of the held",
            .source = "interval arithmetic on the hinge formulas"},
        [OUT_AT_MOST] = {IN_MPA("weld_strength_at_most"),
            .label = "Strength the coupons show, at most",
            .formula = "fy·t²/4 over the weld's shape, least of the broken",
            .source = "interval arithmetic on the hinge formulas"},
    },
    /* clang-format on */
    .example = "thickness=6 leg=4 yield=250 weld_strength=480 sides=1 opening=root",
    .permission = true,
    .work = work,
    .say = say,
};
