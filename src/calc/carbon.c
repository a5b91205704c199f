/*
 * calc carbon: the carbon equivalents of a steel.
 */
#include <math.h>
#include <stddef.h>

#include "calc/answer.h"
#include "weld/steel.h"
#include "weld/uncertainty.h"

#define CONTENT(key_, name)                                                                        \
    {                                                                                              \
        .key = key_, .dimension = DIM_SHARE, .unit = "%", .help = name ", mass %"                  \
    }

enum { C, MN, SI, CR, MO, V, NI, CU, B, ELEMENTS };
enum { OUT_CE, OUT_CET, OUT_PCM };

static int work(struct calc_work *w, struct error *e)
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
    found[OUT_CE] = steel_ce_iiw(&s);
    found[OUT_CET] = steel_cet(&s);
    found[OUT_PCM] = steel_pcm(&s);
    for (i = 0; i < sizeof found / sizeof *found; i++) {
        w->out[i] = found[i].value;
        w->why[i] = found[i].outside;
    }
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    if (!isnan(w->out[OUT_CE]))
        calc_note(a, "Elements not said count as 0; take them from the mill certificate.");
}

const struct calc_kind calc_carbon = {
    .name = "carbon",
    .summary = "Carbon equivalents CE (IIW), CET and Pcm",
    .needs = "the contents of the steel, at least C and Mn",
    .range = "the composition each formula was found on; outside it the sum is given and marked",
    /* clang-format off */
    .arguments = {
        [C] = CONTENT("C", "carbon"),
        [MN] = CONTENT("Mn", "manganese"),
        [SI] = CONTENT("Si", "silicon"),
        [CR] = CONTENT("Cr", "chromium"),
        [MO] = CONTENT("Mo", "molybdenum"),
        [V] = CONTENT("V", "vanadium"),
        [NI] = CONTENT("Ni", "nickel"),
        [CU] = CONTENT("Cu", "copper"),
        [B] = CONTENT("B", "boron"),
    },
    .outputs = {
        [OUT_CE] = {.key = "ce_iiw", .label = "Carbon equivalent CE (IIW)", .unit = "mass %",
            .formula = "C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15", .source = "EN 1011-2:2001 C.2"},
        [OUT_CET] = {.key = "cet", .label = "Carbon equivalent CET", .unit = "mass %",
            .formula = "C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40", .source = "EN 1011-2:2001 C.3"},
        [OUT_PCM] = {.key = "pcm", .label = "Crack parameter Pcm", .unit = "mass %",
            .formula = "C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5·B",
            .source = "Ito & Bessyo; AWS D1.1"},
    },
    /* clang-format on */
    .example = "C=0.18 Mn=0.75",
    .work = work,
    .say = say,
};
