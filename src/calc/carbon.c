/*
 * calc carbon: the carbon equivalents of a steel. Rows by enum steel_element and steel_formula.
 */
#include <math.h>

#include "calc/answer.h"
#include "weld/steel.h"

#define CONTENT(key_, name)                                                                        \
    {                                                                                              \
        .key = (key_), .dimension = DIM_SHARE, .unit = "%", .help = name ", mass %"                \
    }

static int work(struct calc_work *w, struct error *e)
{
    double content[STEEL_ELEMENTS];
    bool any = false;

    (void)e;
    for (size_t i = 0; i < STEEL_ELEMENTS; i++) {
        any = any || !isnan(w->in[i]);
        content[i] = isnan(w->in[i]) ? 0 : w->in[i];
    }
    for (size_t i = 0; any && i < STEEL_FORMULAS; i++) {
        struct carbon found = steel_carbon(i, content);

        w->out[i] = found.value;
        w->why[i] = found.outside;
    }
    return 0;
}

const struct calc_kind calc_carbon = {
    .name = "carbon",
    .summary = "Carbon equivalents CE (IIW), CET and Pcm",
    .needs = "the contents of the steel, at least C and Mn",
    .range = "the composition each formula was found on; outside it the sum is given and marked",
    /* clang-format off */
    .remarks = {
        {STEEL_CE_IIW, "Elements not said count as 0; take them from the mill certificate."},
    },
    .arguments = {
        [STEEL_C] = CONTENT("C", "carbon"),
        [STEEL_MN] = CONTENT("Mn", "manganese"),
        [STEEL_SI] = CONTENT("Si", "silicon"),
        [STEEL_CR] = CONTENT("Cr", "chromium"),
        [STEEL_MO] = CONTENT("Mo", "molybdenum"),
        [STEEL_V] = CONTENT("V", "vanadium"),
        [STEEL_NI] = CONTENT("Ni", "nickel"),
        [STEEL_CU] = CONTENT("Cu", "copper"),
        [STEEL_B] = CONTENT("B", "boron"),
    },
    .outputs = {
        [STEEL_CE_IIW] = {.key = "ce_iiw", .label = "Carbon equivalent CE (IIW)", .unit = "mass %",
            .formula = "C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15", .source = "EN 1011-2:2001 C.2"},
        [STEEL_CET] = {.key = "cet", .label = "Carbon equivalent CET", .unit = "mass %",
            .formula = "C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40", .source = "EN 1011-2:2001 C.3"},
        [STEEL_PCM] = {.key = "pcm", .label = "Crack parameter Pcm", .unit = "mass %",
            .formula = "C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5·B",
            .source = "Ito & Bessyo; AWS D1.1"},
    },
    /* clang-format on */
    .example = "C=0.18 Mn=0.75",
    .work = work,
};
