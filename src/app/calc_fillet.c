/*
 * calc fillet: throat, area and mass of a fillet weld.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_work.h"
#include "weld/fillet.h"
#include "weld/uncertainty.h"

enum { LEG, LEG1, LEG2, THROAT, THICKNESS, LENGTH };

static const struct calc_argument arguments[] = {
    {"leg", "z", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM, "leg of an equal fillet"},
    {"leg1", "leg_1", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "one leg of an unequal fillet"},
    {"leg2", "leg_2", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM, "the other leg"},
    {"throat", "a", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "throat of an equal fillet, when the leg is not known"},
    {"thickness", "t", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "plate, for the throat as a share of it"},
    {"length", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_MM,
     "length of the bead, for its mass"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

enum { OUT_THROAT, OUT_AREA, OUT_MASS, OUT_LEG1, OUT_LEG2, OUT_RATIO, OUT_WELD };

#define DENSITY "steel at 0.283 lb/in³ (7833.4 kg/m³)"

static const struct calc_output outputs[] = {
    {"throat_mm", "Throat", DIM_LENGTH, "mm", "throat_in", "in", "z₁·z₂/√(z₁² + z₂²); equal: z/√2",
     "geometry; ISO 17659, AWS A3.0 for the name"},
    {"area_mm2", "Area of the triangle", DIM_AREA, "mm2", "area_in2", "in2", "z₁·z₂/2", "geometry"},
    {"mass_kg_per_m", "Weld metal per length", DIM_LINE_MASS, "kg/m", "mass_lb_per_ft", "lb/ft",
     "area × density", DENSITY},
    {"leg1_mm", "Leg", DIM_LENGTH, "mm", "leg1_in", "in", "as given; a·√2", "geometry"},
    {"leg2_mm", "Other leg", DIM_LENGTH, "mm", "leg2_in", "in", "as given; a·√2", "geometry"},
    {"throat_to_thickness", "Throat over thickness", DIM_NUMBER, "", NULL, NULL, "a/t", "geometry"},
    {"weld_mass_kg", "Weld metal of the bead", DIM_MASS, "kg", "weld_mass_lb", "lb",
     "mass per length × length", DENSITY},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

static bool asked(const struct calc_work *w)
{
    return !isnan(w->in[LEG]) || (!isnan(w->in[LEG1]) && !isnan(w->in[LEG2])) ||
           !isnan(w->in[THROAT]);
}

static struct fillet fillet_of(const struct calc_work *w)
{
    if (!isnan(w->in[LEG]))
        return fillet_from_legs((struct mm){w->in[LEG]}, (struct mm){w->in[LEG]});
    if (!isnan(w->in[LEG1]))
        return fillet_from_legs((struct mm){w->in[LEG1]}, (struct mm){w->in[LEG2]});
    return fillet_from_throat((struct mm){w->in[THROAT]});
}

static int work(struct calc_work *w, struct error *e)
{
    struct fillet f;

    (void)e;
    if (!asked(w))
        return 0;
    f = fillet_of(w);
    w->out[OUT_THROAT] = f.throat.v;
    w->out[OUT_AREA] = f.area.v;
    w->out[OUT_MASS] = f.mass.v;
    w->out[OUT_LEG1] = f.leg1.v;
    w->out[OUT_LEG2] = f.leg2.v;
    w->out[OUT_RATIO] = w->in[THICKNESS] > 0 ? f.throat.v / w->in[THICKNESS] : NAN;
    w->out[OUT_WELD] = w->in[LENGTH] >= 0 ? f.mass.v * w->in[LENGTH] / 1e6 : NAN;
    w->why[OUT_THROAT] = w->why[OUT_AREA] = w->why[OUT_MASS] = f.outside;
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    if (isnan(w->out[OUT_THROAT]))
        return;
    calc_note(a, "A flat-faced triangle between members at 90° that touch: a convex face carries "
                 "more metal and no more throat, a root gap takes throat away.");
    calc_note(a, "Mass: " DENSITY ", as tables of filler metal consumption take it.");
}

const struct calc_kind calc_fillet = {
    .name = "fillet",
    .either = "leg|leg1 leg2 throat; throat|leg1 leg2",
    .summary = "Throat, area and mass of a fillet weld",
    .needs = "leg, or leg1 and leg2, or throat",
    .range = "legs above 0, members at 90°",
    .arguments = arguments,
    .outputs = outputs,
    .example = "leg=1/2in",
    .work = work,
    .say = say,
};
