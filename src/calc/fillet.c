/*
 * calc fillet: throat, area and mass of a fillet weld.
 */
#include <math.h>

#include "calc/answer.h"
#include "weld/fillet.h"

enum { LEG, LEG1, LEG2, THROAT, THICKNESS, LENGTH };

enum { OUT_THROAT, OUT_AREA, OUT_MASS, OUT_LEG1, OUT_LEG2, OUT_RATIO, OUT_WELD };

#define DENSITY "steel at 0.283 lb/in³ (7833.4 kg/m³)"

static int work(struct calc_work *w, struct error *e)
{
    struct mm leg1 = {isnan(w->in[LEG]) ? w->in[LEG1] : w->in[LEG]};
    struct mm leg2 = {isnan(w->in[LEG]) ? w->in[LEG2] : w->in[LEG]};
    bool throat = !isnan(w->in[THROAT]);
    struct fillet f;

    (void)e;
    if (!throat && (isnan(leg1.v) || isnan(leg2.v)))
        return 0;
    f = throat ? fillet_from_throat((struct mm){w->in[THROAT]}) : fillet_from_legs(leg1, leg2);
    w->out[OUT_THROAT] = f.throat.v;
    w->out[OUT_AREA] = f.area.v;
    w->out[OUT_MASS] = f.mass.v;
    w->out[OUT_LEG1] = f.leg1.v;
    w->out[OUT_LEG2] = f.leg2.v;
    w->out[OUT_RATIO] = w->in[THICKNESS] > 0 ? f.throat.v / w->in[THICKNESS] : NAN;
    w->out[OUT_WELD] = f.mass.v * w->in[LENGTH] / 1e6;
    w->why[OUT_THROAT] = w->why[OUT_AREA] = w->why[OUT_MASS] = f.outside;
    return 0;
}

const struct calc_kind calc_fillet = {
    .name = "fillet",
    .either = "leg|leg1 leg2 throat; throat|leg1 leg2",
    .summary = "Throat, area and mass of a fillet weld",
    .needs = "leg, or leg1 and leg2, or throat",
    .range = "legs above 0, members at 90°",
    /* clang-format off */
    .remarks = {
        {OUT_THROAT, "A flat-faced triangle between members at 90° that touch: a convex face "
            "carries more metal and no more throat, a root gap takes throat away."},
        {OUT_THROAT, "Mass: " DENSITY ", as tables of filler metal consumption take it."},
    },
    .arguments = {
        [LEG] = {.key = "leg", .also = "z", BY_RULE, .help = "leg of an equal fillet"},
        [LEG1] = {.key = "leg1", .also = "leg_1", BY_RULE, .help = "one leg of an unequal fillet"},
        [LEG2] = {.key = "leg2", .also = "leg_2", BY_RULE, .help = "the other leg"},
        [THROAT] = {.key = "throat", .also = "a", BY_RULE,
            .help = "throat of an equal fillet, when the leg is not known"},
        [THICKNESS] = {.key = "thickness", .also = "t", BY_CALLIPER,
            .help = "plate, for the throat as a share of it"},
        [LENGTH] = {.key = "length", BY_RULE, .help = "length of the bead, for its mass"},
    },
    .outputs = {
        [OUT_THROAT] = {.card = true, IN_MM("throat"), .label = "Throat",
            .formula = "z₁·z₂/√(z₁² + z₂²); equal: z/√2",
            .source = "geometry; ISO 17659, AWS A3.0 for the name"},
        [OUT_AREA] = {.key = "area_mm2", .label = "Area of the triangle", .dimension = DIM_AREA,
            .twin_key = "area_in2", .formula = "z₁·z₂/2", .source = "geometry"},
        [OUT_MASS] = {.key = "mass_kg_per_m", .label = "Weld metal per length",
            .dimension = DIM_LINE_MASS, .unit = "kg/m", .twin_key = "mass_lb_per_ft",
            .formula = "area × density", .source = DENSITY},
        [OUT_LEG1] = {IN_MM("leg1"), .label = "Leg", .formula = "as given; a·√2",
            .source = "geometry"},
        [OUT_LEG2] = {IN_MM("leg2"), .label = "Other leg", .formula = "as given; a·√2",
            .source = "geometry"},
        [OUT_RATIO] = {.card = true, .key = "throat_to_thickness", .label = "Throat over thickness",
            .formula = "a/t", .source = "geometry"},
        [OUT_WELD] = {IN_KG("weld_mass"), .label = "Weld metal of the bead",
            .formula = "mass per length × length", .source = DENSITY},
    },
    /* clang-format on */
    .example = "leg=1/2in",
    .work = work,
};
