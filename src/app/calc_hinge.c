/*
 * calc hinge: does the plate fold before the weld breaks; what throat that takes; and what the
 * user's own coupons say about the strength their technique reaches.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_list.h"
#include "app/calc_work.h"
#include "base/text.h"
#include "weld/fillet.h"
#include "weld/hinge.h"
#include "weld/uncertainty.h"

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

static const struct calc_argument arguments[] = {
    {"thickness", "t", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "of the member that is folded"},
    {"leg", "z", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM, "leg of an equal fillet"},
    {"leg1", "leg_1", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM, "one leg"},
    {"leg2", "leg_2", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM, "the other leg"},
    {"throat", "a", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "throat, in place of the legs"},
    {"unfused", "u", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, "0 mm ± 0", READING_MM,
     "depth of the root that is not fused"},
    {"yield", "fy", CALC_QUANTITY, DIM_STRESS, "MPa", NULL, "250 MPa", 0, "yield of the plate"},
    {"weld_strength", "strength fw", CALC_QUANTITY, DIM_STRESS, "MPa", NULL, "480 MPa", 0,
     "tensile strength of the weld metal"},
    {"sides", NULL, CALC_CHOICE, DIM_NUMBER, NULL, "1|2", "1", 0, "sides that are welded"},
    {"opening", NULL, CALC_CHOICE, DIM_NUMBER, NULL, "root|face", "root", 0,
     "what the fold opens: the root, or the face (the root closing)"},
    {"ratio", NULL, CALC_QUANTITY, DIM_NUMBER, NULL, NULL, "1", 0,
     "weld over plate to reach, for the throat needed"},
    {"coupons", NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0,
     "your own: \"broke THICKNESS LEG [UNFUSED]; held THICKNESS LEG [UNFUSED]\"; thickness "
     "±0.1 mm, the others ±0.5 mm"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
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

#define PLASTIC "plastic hinge of a rectangular section"
#define FILLET_FORCE "EN 1993-1-8 4.5.3.2 for F = fw·a/√2 [from memory]"

static const struct calc_output outputs[] = {
    {"weld_to_plate", "Weld over plate", DIM_NUMBER, "", NULL, NULL,
     "root opening fw·a²/(fy·t²); face opening F·(t + a/(2√2)), both sides F·(t + a/√2), over "
     "fy·t²/4",
     PLASTIC "; " FILLET_FORCE},
    {"plate_moment_n_mm_per_mm", "Moment of the plate, per length of joint", DIM_FORCE, "N",
     "plate_moment_lbf_in_per_in", "lbf", "fy·t²/4", PLASTIC},
    {"weld_moment_n_mm_per_mm", "Moment of the weld, per length of joint", DIM_FORCE, "N",
     "weld_moment_lbf_in_per_in", "lbf", "fw·a²/4; F·(t + a/(2√2)); F·(t + a/√2)",
     PLASTIC "; " FILLET_FORCE},
    {"throat_mm", "Throat", DIM_LENGTH, "mm", "throat_in", "in", "z₁·z₂/√(z₁² + z₂²)", "geometry"},
    {"throat_fused_mm", "Throat that is fused", DIM_LENGTH, "mm", "throat_fused_in", "in",
     "throat − unfused root", "geometry"},
    {"throat_needed_mm", "Throat needed", DIM_LENGTH, "mm", "throat_needed_in", "in",
     "weld over plate = ratio, solved for the throat", PLASTIC "; " FILLET_FORCE},
    {"leg_needed_mm", "Leg needed", DIM_LENGTH, "mm", "leg_needed_in", "in", "throat needed × √2",
     "geometry"},
    {"weld_strength_needed_mpa", "Weld strength needed at this throat", DIM_STRESS, "MPa",
     "weld_strength_needed_ksi", "ksi", "weld strength × ratio/(weld over plate)", PLASTIC},
    {"weld_strength_at_least_mpa", "Strength the coupons show, at least", DIM_STRESS, "MPa",
     "weld_strength_at_least_ksi", "ksi", "fy·t²/4 over the weld's shape, largest of the held",
     "interval arithmetic on the hinge formulas"},
    {"weld_strength_at_most_mpa", "Strength the coupons show, at most", DIM_STRESS, "MPa",
     "weld_strength_at_most_ksi", "ksi", "fy·t²/4 over the weld's shape, least of the broken",
     "interval arithmetic on the hinge formulas"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

static double throat_of(const struct calc_work *w)
{
    if (!isnan(w->in[THROAT]))
        return w->in[THROAT];
    if (!isnan(w->in[LEG]))
        return fillet_from_legs((struct mm){w->in[LEG]}, (struct mm){w->in[LEG]}).throat.v;
    return fillet_from_legs((struct mm){w->in[LEG1]}, (struct mm){w->in[LEG2]}).throat.v;
}

static bool throat_given(const struct calc_work *w)
{
    return !isnan(w->in[THROAT]) || !isnan(w->in[LEG]) ||
           (!isnan(w->in[LEG1]) && !isnan(w->in[LEG2]));
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

/* "broke 6mm 4mm 1mm": how it ended, thickness, leg, unfused root. */
static int read_coupon(char *item, struct hinge_coupon *c, struct error *e)
{
    double *const into[] = {&c->joint.thickness.v, &c->joint.throat.v, &c->joint.unfused.v};
    char *how = calc_list_word(&item), *word = NULL;
    const struct unit *unit;
    size_t n = 0;

    c->held = text_same(how, "held");
    if (!c->held && !text_same(how, "broke"))
        return error_set(e, ERROR_INPUT, "coupons: '%s' is neither broke nor held", how);
    while (n < 3 && (word = calc_list_word(&item)) != NULL)
        if (calc_list_quantity("coupons", word, DIM_LENGTH, "mm", into[n++], &unit, e) != 0)
            return -1;
    if (n < 2 || calc_list_word(&item) != NULL)
        return error_set(e, ERROR_INPUT,
                         "coupons: after %s come thickness, leg and, if seen, the unfused depth",
                         how);
    c->unfused_error.v = n > 2 ? READING_MM : 0;
    c->joint.throat = fillet_from_legs(c->joint.throat, c->joint.throat).throat;
    return 0;
}

static int fit_work(struct calc_work *w, struct error *e)
{
    struct hinge_coupon coupons[CALC_ITEMS];
    struct hinge_joint joint = joint_of(w);
    struct calc_list list = calc_list_start(w->text[COUPONS]);
    struct hinge_fit fit;
    char item[CALC_ITEM];
    size_t n = 0;

    while (n < CALC_ITEMS && calc_list_next(&list, item)) {
        coupons[n] = (struct hinge_coupon){.joint = joint,
                                           .moment = {NAN},
                                           .thickness_error = {READING_CALIPER_MM},
                                           .throat_error = {READING_MM / sqrt(2)}};
        coupons[n].joint.unfused.v = 0;
        if (read_coupon(item, &coupons[n++], e) != 0)
            return -1;
    }
    if (*list.at != '\0')
        return error_set(e, ERROR_INPUT, "coupons: at most %d, each in less than %d letters",
                         CALC_ITEMS, CALC_ITEM);
    fit = hinge_fit(coupons, n);
    if (n == 0 || fit.left_out > 0)
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
    .arguments = arguments,
    .outputs = outputs,
    .example = "thickness=6 leg=4 yield=250 weld_strength=480 sides=1 opening=root",
    .permission = true,
    .work = work,
    .say = say,
};
