/*
 * Carbon equivalents as weighted sums of one composition, each with the range its standard gives
 * for every element; and preheat by Method B.
 */
#include "weld/steel.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

/* One element in one formula. */
struct term {
    double divisor;     /* 0: not in the sum */
    double least, most; /* range of the standard, mass % */
};

static const struct term terms[STEEL_ELEMENTS][STEEL_FORMULAS] = {
    /* clang-format off */
    /*              CE (IIW)           CET                Pcm */
    [STEEL_C]  = {{ 1, 0.05, 0.25}, { 1, 0.05, 0.32}, { 1,   0.07, 0.22}},
    [STEEL_MN] = {{ 6, 0, 1.7},     {10, 0.5, 1.9},   {20,   0.4, 1.4}},
    [STEEL_SI] = {{ 0, 0, 0.8},     { 0, 0, 0.8},     {30,   0, 0.6}},
    [STEEL_CR] = {{ 5, 0, 0.9},     {20, 0, 1.5},     {20,   0, 1.2}},
    [STEEL_MO] = {{ 5, 0, 0.75},    {10, 0, 0.75},    {15,   0, 0.7}},
    [STEEL_V]  = {{ 5, 0, 0.20},    { 0, 0, 0.18},    {10,   0, 0.12}},
    [STEEL_NI] = {{15, 0, 2.5},     {40, 0, 2.5},     {60,   0, 1.2}},
    [STEEL_CU] = {{15, 0, 1.0},     {20, 0, 0.7},     {20,   0, 0.5}},
    [STEEL_B]  = {{ 0, 0, 100},     { 0, 0, 0.005},   { 0.2, 0, 0.005}},
    /* clang-format on */
};

struct carbon steel_carbon(enum steel_formula formula, const double content[STEEL_ELEMENTS])
{
    static const char *const outside[] = {
        [STEEL_CE_IIW] = "the steel is outside the composition EN 1011-2 Method A is meant for",
        [STEEL_CET] = "the steel is outside the composition EN 1011-2 Method B is meant for",
        [STEEL_PCM] = "the steel is outside the composition Pcm was found on",
    };
    struct carbon out = {0, NULL};
    double all = 0;

    assert(formula < STEEL_FORMULAS);
    for (size_t i = 0; i < STEEL_ELEMENTS; i++) {
        const struct term *t = &terms[i][formula];

        if (!(content[i] >= 0) || content[i] > 100)
            return (struct carbon){NAN, "every content must be from 0 to 100 %"};
        if (content[i] < t->least || content[i] > t->most)
            out.outside = outside[formula];
        out.value += t->divisor > 0 ? content[i] / t->divisor : 0;
        all += content[i];
    }
    if (all <= 0)
        return (struct carbon){NAN, "say at least the carbon and manganese content"};
    return out;
}

struct preheat steel_preheat(double cet, struct mm thickness, struct ml_per_100g hydrogen,
                             struct kj_per_mm heat_input)
{
    const struct {
        double value, least, most;
        const char *why;
    } limits[] = {
        {thickness.v, 10, 90, "the rule holds from 10 mm to 90 mm of plate"},
        {cet, 0.2, 0.5, "the rule holds for a CET from 0.2 to 0.5"},
        {heat_input.v, 0.5, 4, "the rule holds for a heat input from 0.5 to 4 kJ/mm"},
        {hydrogen.v, 1, 20, "the rule holds for 1 to 20 ml of hydrogen in 100 g"},
    };

    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++)
        if (!(limits[i].value >= limits[i].least && limits[i].value <= limits[i].most))
            return (struct preheat){{NAN}, limits[i].why};
    return (struct preheat){{697 * cet + 160 * tanh(thickness.v / 35) + 62 * pow(hydrogen.v, 0.35) +
                             (53 * cet - 32) * heat_input.v - 328},
                            NULL};
}
