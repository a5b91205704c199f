/*
 * Carbon equivalents as weighted sums of one composition, each with the range its standard gives
 * for every element; and preheat by Method B.
 */
#include "weld/steel.h"

#include <math.h>
#include <stddef.h>

enum { ELEMENTS = 9 };

/* One element of one formula. */
struct term {
    double divisor;     /* 0: not in the sum */
    double least, most; /* range of the standard, mass % */
};

struct equivalent {
    const char *outside;
    struct term terms[ELEMENTS]; /* C Si Mn Cr Mo V Ni Cu B */
};

static const struct equivalent ce_iiw = {
    "the steel is outside the composition EN 1011-2 Method A is meant for",
    {{1, 0.05, 0.25},
     {0, 0, 0.8},
     {6, 0, 1.7},
     {5, 0, 0.9},
     {5, 0, 0.75},
     {5, 0, 0.20},
     {15, 0, 2.5},
     {15, 0, 1.0},
     {0, 0, INFINITY}}};

static const struct equivalent cet = {
    "the steel is outside the composition EN 1011-2 Method B is meant for",
    {{1, 0.05, 0.32},
     {0, 0, 0.8},
     {10, 0.5, 1.9},
     {20, 0, 1.5},
     {10, 0, 0.75},
     {0, 0, 0.18},
     {40, 0, 2.5},
     {20, 0, 0.7},
     {0, 0, 0.005}}};

static const struct equivalent pcm = {"the steel is outside the composition Pcm was found on",
                                      {{1, 0.07, 0.22},
                                       {30, 0, 0.6},
                                       {20, 0.4, 1.4},
                                       {20, 0, 1.2},
                                       {15, 0, 0.7},
                                       {10, 0, 0.12},
                                       {60, 0, 1.2},
                                       {20, 0, 0.5},
                                       {0.2, 0, 0.005}}};

static struct carbon weigh(const struct composition *s, const struct equivalent *eq)
{
    const double content[ELEMENTS] = {s->c.v, s->si.v, s->mn.v, s->cr.v, s->mo.v,
                                      s->v.v, s->ni.v, s->cu.v, s->b.v};
    struct carbon out = {0, NULL};
    double all = 0;
    size_t i;

    for (i = 0; i < ELEMENTS; i++) {
        const struct term *t = &eq->terms[i];

        if (!(content[i] >= 0) || content[i] > 100)
            return (struct carbon){NAN, "every content must be from 0 to 100 %"};
        if (content[i] < t->least || content[i] > t->most)
            out.outside = eq->outside;
        if (t->divisor > 0)
            out.value += content[i] / t->divisor;
        all += content[i];
    }
    if (all <= 0)
        return (struct carbon){NAN, "say at least the carbon and manganese content"};
    return out;
}

struct carbon steel_ce_iiw(const struct composition *steel)
{
    return weigh(steel, &ce_iiw);
}

struct carbon steel_cet(const struct composition *steel)
{
    return weigh(steel, &cet);
}

struct carbon steel_pcm(const struct composition *steel)
{
    return weigh(steel, &pcm);
}

struct preheat steel_preheat(double cet_value, struct mm thickness, struct ml_per_100g hydrogen,
                             struct kj_per_mm heat_input)
{
    const struct {
        double value, least, most;
        const char *why;
    } limits[] = {
        {thickness.v, 10, 90, "the rule holds from 10 mm to 90 mm of plate"},
        {cet_value, 0.2, 0.5, "the rule holds for a CET from 0.2 to 0.5"},
        {heat_input.v, 0.5, 4, "the rule holds for a heat input from 0.5 to 4 kJ/mm"},
        {hydrogen.v, 1, 20, "the rule holds for 1 to 20 ml of hydrogen in 100 g"},
    };
    size_t i;

    for (i = 0; i < sizeof limits / sizeof *limits; i++)
        if (!(limits[i].value >= limits[i].least && limits[i].value <= limits[i].most))
            return (struct preheat){{NAN}, limits[i].why};
    return (struct preheat){{697 * cet_value + 160 * tanh(thickness.v / 35) +
                             62 * pow(hydrogen.v, 0.35) + (53 * cet_value - 32) * heat_input.v -
                             328},
                            NULL};
}
