#include "weld/bendtest.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#define DEGREES_PER_RADIAN (180.0 / M_PI)

static bool included_possible(double degrees)
{
    return degrees >= 0 && degrees <= 360;
}

struct bend_angle bend_from_included(struct degree before, struct degree after)
{
    struct bend_angle a = {before, after, {NAN}, NULL};

    if (!included_possible(before.v) || !included_possible(after.v))
        a.outside = "an included angle lies between 0° and 360°";
    else
        a.angle.v = fabs(after.v - before.v);
    return a;
}

struct degree bend_included_from_gap(struct mm gap, struct mm leg)
{
    bool possible = gap.v >= 0 && gap.v <= 2 * leg.v; /* legs of 0: 0/0 is no angle either */

    return (struct degree){possible ? 2 * asin(gap.v / (2 * leg.v)) * DEGREES_PER_RADIAN : NAN};
}

struct bend_strain bend_outer_strain(struct mm thickness, struct mm inside_radius)
{
    if (!(thickness.v > 0) || !(inside_radius.v > 0))
        return (struct bend_strain){{NAN}, "thickness and radius must be above 0"};
    return (struct bend_strain){{100 * thickness.v / (2 * inside_radius.v + thickness.v)}, NULL};
}

struct bend_strain bend_free_elongation(struct mm gauge_before, struct mm gauge_after)
{
    if (!(gauge_before.v > 0) || !(gauge_after.v > 0))
        return (struct bend_strain){{NAN}, "both gauge lengths must be above 0"};
    return (struct bend_strain){{100 * (gauge_after.v - gauge_before.v) / gauge_before.v}, NULL};
}

struct bend_springback bend_springback(struct mm radius, struct mm thickness, struct mpa yield,
                                       struct mpa modulus)
{
    struct bend_springback s = {NAN, {NAN}, NULL};
    double x;

    if (!(radius.v > 0) || !(thickness.v > 0) || !(yield.v > 0) || !(modulus.v > 0)) {
        s.outside = "radius, thickness, yield and modulus must be above 0";
        return s;
    }
    x = radius.v * yield.v / (modulus.v * thickness.v);
    if (x >= 0.5) {
        s.outside = "so gentle a bend stays elastic: the sheet springs back flat";
        return s;
    }
    s.ratio = 4 * x * x * x - 3 * x + 1;
    s.radius_after.v = radius.v / s.ratio;
    return s;
}
