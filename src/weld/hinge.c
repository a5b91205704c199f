/*
 * Plastic hinges of a tee coupon. The weld's moment is its strength times a shape in mm that
 * depends on the fused throat alone; check, throat needed and the fit to coupons all go through
 * that shape.
 */
#include "weld/hinge.h"

#include <math.h>

static double plate_moment(double yield, double thickness)
{
    return yield * thickness * thickness / 4;
}

/* Shape of a fused throat `a` on a plate `t`. */
static double shape_of(const struct hinge_joint *j, double a)
{
    double t = j->thickness.v;

    if (j->sides == 2)
        return a / sqrt(2) * (t + a / sqrt(2));
    if (j->opening == HINGE_FACE)
        return a / sqrt(2) * (t + a / (2 * sqrt(2)));
    return a * a / 4;
}

static const char *outside_range(const struct hinge_joint *j)
{
    if (!(j->thickness.v > 0) || !(j->throat.v > 0))
        return "thickness and throat must be above 0";
    if (!(j->unfused.v >= 0))
        return "the unfused root depth must be 0 or more";
    if (!(j->unfused.v < j->throat.v))
        return "the root is unfused through the whole throat: there is no weld left";
    if (j->sides != 1 && j->sides != 2)
        return "a tee is welded on 1 or 2 sides";
    return NULL;
}

struct hinge hinge_check(const struct hinge_joint *joint)
{
    struct hinge h = {{NAN}, {NAN}, NAN, NULL};

    h.outside = outside_range(joint);
    if (h.outside == NULL && (!(joint->yield.v > 0) || !(joint->strength.v > 0)))
        h.outside = "yield and weld strength must be above 0";
    if (h.outside != NULL)
        return h;
    h.plate.v = plate_moment(joint->yield.v, joint->thickness.v);
    h.weld.v = joint->strength.v * shape_of(joint, joint->throat.v - joint->unfused.v);
    h.weld_to_plate = h.weld.v / h.plate.v;
    if (joint->throat.v > 2 * joint->thickness.v)
        h.outside = "a throat above twice the thickness: the triangle is not what yields";
    return h;
}

/* Roots of shape(a)·fw = ratio·fy·t²/4, with s = ratio·fy/fw. */
struct mm hinge_throat_needed(const struct hinge_joint *joint, double ratio)
{
    double t = joint->thickness.v, s = ratio * joint->yield.v / joint->strength.v, a;

    if (!(t > 0) || !(s > 0) || isinf(s) || !(joint->strength.v > 0) || !(joint->unfused.v >= 0) ||
        (joint->sides != 1 && joint->sides != 2))
        return (struct mm){NAN};
    if (joint->sides == 2)
        a = t / sqrt(2) * (sqrt(1 + s) - 1);
    else if (joint->opening == HINGE_FACE)
        a = t * (sqrt(2 + s) - sqrt(2));
    else
        a = t * sqrt(s);
    return (struct mm){a + joint->unfused.v};
}

/* The weld's shape with every length at the end of its ± that gives most (+1) or least (−1). */
static double shape_at_end(const struct hinge_coupon *c, double sign)
{
    struct hinge_joint j = c->joint;

    j.thickness.v = fmax(j.thickness.v + sign * c->thickness_error.v, 0);
    j.throat.v = fmax(j.throat.v + sign * c->throat_error.v, 0);
    j.unfused.v = fmax(j.unfused.v - sign * c->unfused_error.v, 0);
    return shape_of(&j, fmax(j.throat.v - j.unfused.v, 0));
}

static double moment_at_end(const struct hinge_coupon *c, double sign)
{
    double thickness = fmax(c->joint.thickness.v + sign * c->thickness_error.v, 0);
    double share = 1 + sign * c->yield_error;

    return share * (isnan(c->moment.v) ? plate_moment(c->joint.yield.v, thickness) : c->moment.v);
}

static bool says_something(const struct hinge_coupon *c)
{
    return outside_range(&c->joint) == NULL && c->thickness_error.v >= 0 &&
           c->throat_error.v >= 0 && c->unfused_error.v >= 0 && c->yield_error >= 0 &&
           (c->moment.v > 0 || (isnan(c->moment.v) && c->joint.yield.v > 0));
}

struct hinge_fit hinge_fit(const struct hinge_coupon *coupons, size_t count)
{
    struct hinge_fit fit = {{0}, {INFINITY}, 0, 0, 0, false};

    for (size_t i = 0; i < count; i++) {
        const struct hinge_coupon *c = &coupons[i];

        if (!says_something(c)) {
            fit.left_out++;
            continue;
        }
        if (c->held || !isnan(c->moment.v))
            fit.at_least.v = fmax(fit.at_least.v, moment_at_end(c, -1) / shape_at_end(c, +1));
        if (!c->held)
            fit.at_most.v = fmin(fit.at_most.v, moment_at_end(c, +1) / shape_at_end(c, -1));
        fit.held += c->held;
        fit.broke += !c->held;
    }
    fit.contradict = fit.at_least.v > fit.at_most.v;
    return fit;
}
