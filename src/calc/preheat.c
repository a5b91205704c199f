/*
 * calc preheat: what the steel asks for against cold cracking.
 */
#include <math.h>

#include "calc/answer.h"
#include "weld/steel.h"

enum { CET, D, HD, Q };

enum { OUT_PREHEAT };

#define PLATE_C 20.0 /* a plate in the shop, unheated */

static int work(struct calc_work *w, struct error *e)
{
    struct preheat p;
    size_t i;

    (void)e;
    for (i = CET; i <= Q; i++)
        if (isnan(w->in[i]))
            return 0;
    p = steel_preheat(w->in[CET], (struct mm){w->in[D]}, (struct ml_per_100g){w->in[HD]},
                      (struct kj_per_mm){w->in[Q]});
    w->out[OUT_PREHEAT] = p.temperature.v < PLATE_C ? NAN : p.temperature.v;
    w->why[OUT_PREHEAT] = p.outside;
    w->want[OUT_PREHEAT] =
        p.temperature.v < PLATE_C
            ? "none is asked for: the rule ends below 20 °C, the plate as it lies"
            : NULL;
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    if (w->in[D] < 10)
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
    /* clang-format off */
    .arguments = {
        [CET] = {.key = "cet", .help = "carbon equivalent CET, mass %, as calc carbon gives it"},
        [D] = {.key = "thickness", .also = "d", BY_CALLIPER, .help = "plate thickness"},
        [HD] = {.key = "hydrogen", .also = "hd", .dimension = DIM_HYDROGEN,
            .help = "diffusible hydrogen of the weld metal: 5 for H5 wire, 10 for H10"},
        [Q] = {.key = "heat_input", .also = "q", .dimension = DIM_LINE_ENERGY,
            .help = "heat input of a pass, with k"},
    },
    .outputs = {
        [OUT_PREHEAT] = {.key = "preheat_c", .label = "Preheat by Method B",
            .dimension = DIM_TEMPERATURE, .twin_key = "preheat_f",
            .formula = "697·CET + 160·tanh(d/35) + 62·HD^0.35 + (53·CET − 32)·Q − 328",
            .source = "EN 1011-2:2001 C.3"},
    },
    /* clang-format on */
    .example = "cet=0.33 thickness=20 hydrogen=5 heat_input=1.0",
    .permission = true,
    .work = work,
    .say = say,
};
