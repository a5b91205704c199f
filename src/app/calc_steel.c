/*
 * calc carbon, calc preheat: what the steel asks for.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_work.h"
#include "weld/steel.h"
#include "weld/uncertainty.h"

#define CONTENT(key, name)                                                                         \
    {                                                                                              \
        key, NULL, CALC_QUANTITY, DIM_SHARE, "%", NULL, NULL, 0, name ", mass %"                   \
    }

static const struct calc_argument carbon_arguments[] = {
    CONTENT("C", "carbon"),      CONTENT("Mn", "manganese"),
    CONTENT("Si", "silicon"),    CONTENT("Cr", "chromium"),
    CONTENT("Mo", "molybdenum"), CONTENT("V", "vanadium"),
    CONTENT("Ni", "nickel"),     CONTENT("Cu", "copper"),
    CONTENT("B", "boron"),       {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

enum { C, MN, SI, CR, MO, V, NI, CU, B, ELEMENTS };
enum { CARBON_CE, CARBON_CET, CARBON_PCM };

static const struct calc_output carbon_outputs[] = {
    {"ce_iiw", "Carbon equivalent CE (IIW)", DIM_NUMBER, "mass %", NULL, NULL,
     "C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15", "EN 1011-2:2001 C.2"},
    {"cet", "Carbon equivalent CET", DIM_NUMBER, "mass %", NULL, NULL,
     "C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40", "EN 1011-2:2001 C.3"},
    {"pcm", "Crack parameter Pcm", DIM_NUMBER, "mass %", NULL, NULL,
     "C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5·B", "Ito & Bessyo; AWS D1.1"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

static int carbon_work(struct calc_work *w, struct error *e)
{
    struct carbon found[3];
    double x[ELEMENTS];
    struct composition s;
    bool any = false;
    size_t i;

    (void)e;
    for (i = 0; i < ELEMENTS; i++) {
        any = any || !isnan(w->in[i]);
        x[i] = isnan(w->in[i]) ? 0 : w->in[i];
    }
    if (!any)
        return 0;
    s = (struct composition){.c = {x[C]},
                             .si = {x[SI]},
                             .mn = {x[MN]},
                             .cr = {x[CR]},
                             .mo = {x[MO]},
                             .v = {x[V]},
                             .ni = {x[NI]},
                             .cu = {x[CU]},
                             .b = {x[B]}};
    found[CARBON_CE] = steel_ce_iiw(&s);
    found[CARBON_CET] = steel_cet(&s);
    found[CARBON_PCM] = steel_pcm(&s);
    for (i = 0; i < sizeof found / sizeof *found; i++) {
        w->out[i] = found[i].value;
        w->why[i] = found[i].outside;
    }
    return 0;
}

static void carbon_say(const struct calc_work *w, struct calc_answer *a)
{
    if (!isnan(w->out[CARBON_CE]))
        calc_note(a, "Elements not said count as 0; take them from the mill certificate.");
}

const struct calc_kind calc_carbon = {
    .name = "carbon",
    .summary = "Carbon equivalents CE (IIW), CET and Pcm",
    .needs = "the contents of the steel, at least C and Mn",
    .range = "the composition each formula was found on; outside it the sum is given and marked",
    .arguments = carbon_arguments,
    .outputs = carbon_outputs,
    .example = "C=0.18 Mn=0.75",
    .work = carbon_work,
    .say = carbon_say,
};

enum { PREHEAT_CET, PREHEAT_D, PREHEAT_HD, PREHEAT_Q };

static const struct calc_argument preheat_arguments[] = {
    {"cet", NULL, CALC_QUANTITY, DIM_NUMBER, NULL, NULL, NULL, 0,
     "carbon equivalent CET, mass %, as calc carbon gives it"},
    {"thickness", "d", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, READING_CALIPER_MM,
     "plate thickness"},
    {"hydrogen", "hd", CALC_QUANTITY, DIM_HYDROGEN, "ml/100g", NULL, NULL, 0,
     "diffusible hydrogen of the weld metal: 5 for H5 wire, 10 for H10"},
    {"heat_input", "q", CALC_QUANTITY, DIM_LINE_ENERGY, "kJ/mm", NULL, NULL, 0,
     "heat input of a pass, with k"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

static const struct calc_output preheat_outputs[] = {
    {"preheat_c", "Preheat by Method B", DIM_TEMPERATURE, "degC", "preheat_f", "degF",
     "697·CET + 160·tanh(d/35) + 62·HD^0.35 + (53·CET − 32)·Q − 328", "EN 1011-2:2001 C.3"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

#define PLATE_C 20.0 /* a plate in the shop, unheated */

static int preheat_work(struct calc_work *w, struct error *e)
{
    struct preheat p;
    size_t i;

    (void)e;
    for (i = PREHEAT_CET; i <= PREHEAT_Q; i++)
        if (isnan(w->in[i]))
            return 0;
    p = steel_preheat(w->in[PREHEAT_CET], (struct mm){w->in[PREHEAT_D]},
                      (struct ml_per_100g){w->in[PREHEAT_HD]},
                      (struct kj_per_mm){w->in[PREHEAT_Q]});
    w->out[0] = p.temperature.v < PLATE_C ? NAN : p.temperature.v;
    w->why[0] = p.outside;
    w->want[0] = p.temperature.v < PLATE_C
                     ? "none is asked for: the rule ends below 20 °C, the plate as it lies"
                     : NULL;
    return 0;
}

static void preheat_say(const struct calc_work *w, struct calc_answer *a)
{
    if (w->in[PREHEAT_D] < 10)
        calc_note(a, "On 2 to 10 mm mild steel no published rule asks for preheat; there it is a "
                     "variable of the trial.");
}

const struct calc_kind calc_preheat = {
    .name = "preheat",
    .summary = "Preheat against cold cracking, EN 1011-2 Method B",
    .needs = "cet, thickness, hydrogen and heat_input",
    .range = "10 to 90 mm, CET 0.2 to 0.5, 0.5 to 4 kJ/mm, 1 to 20 ml/100 g; no figure outside, "
             "nor below "
             "20 °C",
    .arguments = preheat_arguments,
    .outputs = preheat_outputs,
    .example = "cet=0.33 thickness=20 hydrogen=5 heat_input=1.0",
    .permission = true,
    .work = preheat_work,
    .say = preheat_say,
};
