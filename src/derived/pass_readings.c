#include "derived/pass_readings.h"

#include <math.h>

#include "base/text.h"
#include "model/variable_key.h"
#include "weld/bendtest.h"
#include "weld/heat.h"

double coupon_number(const struct coupon *c, const char *key)
{
    const struct value *v = coupon_value(c, key);
    bool exact = v != NULL && v->kind == VARIABLE_NUMBER && v->measure.kind == MEASURE_EXACT;

    return exact ? v->measure.low : NAN;
}

const char *coupon_text(const struct coupon *c, const char *key)
{
    const struct value *v = coupon_value(c, key);

    return v == NULL || v->kind != VARIABLE_CATEGORY ? NULL : v->text;
}

static double first_known(double a, double b)
{
    return isnan(a) ? b : a;
}

struct pass_readings pass_readings_of(const struct coupon *c, const struct pass *pass)
{
    struct pass_readings r = {coupon_number(c, KEY_VOLTS), coupon_number(c, KEY_AMPS),
                              coupon_number(c, KEY_TRAVEL_SPEED), NAN, NAN};

    if (pass == NULL)
        return r;
    r.volts = first_known(pass->volts, r.volts);
    r.amps = first_known(pass->amps, r.amps);
    r.length_mm = pass->length_mm;
    r.arc_s = pass->arc_s;
    if (r.length_mm > 0 && r.arc_s > 0)
        r.speed = NAN;
    return r;
}

double pass_travel_speed(const struct pass_readings *r)
{
    if (!isnan(r->speed))
        return r->speed / 60;
    return heat_travel_speed((struct mm){r->length_mm}, (struct seconds){r->arc_s}).v;
}

static double included(double degrees, double gap_mm, double leg_mm)
{
    if (!isnan(degrees))
        return degrees;
    return bend_included_from_gap((struct mm){gap_mm}, (struct mm){leg_mm}).v;
}

double coupon_included_before(const struct coupon *c)
{
    double known = included(c->bend.before_deg, c->bend.before_gap_mm, c->bend.leg_mm);
    const char *joint = coupon_text(c, KEY_JOINT);

    if (!isnan(known))
        return known;
    if (joint == NULL)
        return NAN;
    return text_same(joint, "tee") || text_same(joint, "corner") ? 90 : 180;
}

double coupon_included_after(const struct coupon *c)
{
    return included(c->bend.after_deg, c->bend.after_gap_mm, c->bend.leg_mm);
}

double coupon_start_c(const struct coupon *c)
{
    double first = c->pass_count > 0 ? c->passes[0].start_c : NAN;

    return first_known(first, coupon_number(c, KEY_PREHEAT));
}

const char *coupon_cooling_joint(const struct coupon *c)
{
    static const struct {
        const char *joint, *shape;
    } shapes[] = {{"butt", "butt"}, {"corner", "corner"}, {"tee", "tee"}, {"lap", "tee"}};
    const char *joint = coupon_text(c, KEY_JOINT);

    for (size_t i = 0; joint != NULL && i < sizeof shapes / sizeof *shapes; i++)
        if (text_same(shapes[i].joint, joint))
            return shapes[i].shape;
    return "plate";
}
