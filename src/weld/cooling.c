/*
 * Cooling time t8/5. T₀ cancels the first bracket to 300/((500−T₀)(800−T₀)); the brackets are kept
 * as the standard prints them.
 */
#include "weld/cooling.h"

#include <math.h>

#include "base/text.h"

static const struct cooling_joint joints[] = {
    {"plate", 1.0, 1.0, 1.0},    /* run on plate */
    {"butt", 0.9, 0.9, 0.9},     /* run between runs of a butt weld */
    {"corner", 0.67, 0.9, 0.67}, /* single-run fillet */
    {"tee", 0.45, 0.67, 0.67},   /* single-run fillet */
};

static double thick_time(double q, double t0)
{
    return (6700 - 5 * t0) * q * (1 / (500 - t0) - 1 / (800 - t0));
}

static double thin_time(double q, double t0, double d)
{
    double cold = 500 - t0, hot = 800 - t0;

    return (4300 - 4.3 * t0) * 1e5 * (q / d) * (q / d) * (1 / (cold * cold) - 1 / (hot * hot));
}

static double transition(double q, double t0)
{
    return sqrt((4300 - 4.3 * t0) * 1e5 / (6700 - 5 * t0) * q * (1 / (500 - t0) + 1 / (800 - t0)));
}

static const char *outside_range(double q, double t0, double d)
{
    if (!(d > 0))
        return "the thickness must be above 0";
    if (!(q >= 0.1 && q <= 5))
        return "the rule holds for a heat input from 0.1 to 5 kJ/mm";
    if (!(t0 <= 350))
        return "the rule holds for plate up to 350 °C before the pass";
    if (t0 < -273.15)
        return "no plate is colder than -273.15 °C";
    return NULL;
}

struct cooling cooling_time(struct kj_per_mm heat_input, struct celsius before, struct mm thickness,
                            const struct cooling_joint *joint)
{
    struct cooling c = {{NAN}, {NAN}, {NAN}, {NAN}, {NAN}, {NAN}, {NAN}, NULL};
    double thin, f2 = (joint->f2_low + joint->f2_high) / 2;

    c.outside = outside_range(heat_input.v, before.v, thickness.v);
    if (c.outside != NULL)
        return c;
    thin = thin_time(heat_input.v, before.v, thickness.v);
    c.thick.v = thick_time(heat_input.v, before.v) * joint->f3;
    c.thin.v = thin * f2;
    c.t85.v = fmax(c.thick.v, c.thin.v);
    if (c.t85.v > COOLING_MOST_S)
        return (struct cooling){{NAN},
                                {NAN},
                                {NAN},
                                {NAN},
                                {NAN},
                                {NAN},
                                {NAN},
                                "above 1000 s such a plate loses its heat to the air, which the "
                                "rule leaves out"};
    c.low.v = fmax(c.thick.v, thin * joint->f2_low);
    c.high.v = fmax(c.thick.v, thin * joint->f2_high);
    c.transition.v = transition(heat_input.v, before.v);
    c.transition_joint.v = c.transition.v * sqrt(f2 / joint->f3);
    return c;
}

const struct cooling_joint *cooling_joint_at(size_t i)
{
    return i < sizeof joints / sizeof *joints ? &joints[i] : NULL;
}

const struct cooling_joint *cooling_joint_find(const char *name)
{
    for (size_t i = 0; i < sizeof joints / sizeof *joints; i++)
        if (text_same(joints[i].name, name))
            return &joints[i];
    return NULL;
}
