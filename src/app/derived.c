/*
 * Derived values: one function a key, tried only when the value was not entered.
 */
#include "app/derived.h"

#include <math.h>
#include <string.h>

#include "app/pass_readings.h"
#include "app/unfused.h"
#include "weld/bendtest.h"
#include "weld/cooling.h"
#include "weld/fillet.h"
#include "weld/heat.h"

static struct measure number(double value)
{
    return isfinite(value) ? measure_exact(value) : measure_missing();
}

static struct measure travel_speed(const struct coupon *c)
{
    double length = 0, time = 0;
    size_t i;

    for (i = 0; i < c->pass_count; i++)
        if (c->passes[i].length_mm > 0 && c->passes[i].arc_s > 0) {
            length += c->passes[i].length_mm;
            time += c->passes[i].arc_s;
        }
    return time > 0 ? number(60 * length / time) : measure_missing();
}

static struct measure passes(const struct coupon *c)
{
    return c->pass_count > 0 ? number((double)c->pass_count) : measure_missing();
}

static double pass_arc_energy(const struct pass_readings *r)
{
    return heat_from_readings((struct volt){r->volts}, (struct ampere){r->amps},
                              (struct mm_per_s){pass_travel_speed(r)}, NAN)
        .arc_energy.v;
}

/* What a pass counts in the mean: its length where every pass has one, else its time, else 1. */
enum weight { BY_LENGTH, BY_TIME, ALIKE };

static enum weight weight_of(const struct coupon *c)
{
    bool lengths = true, times = true;
    size_t i;

    for (i = 0; i < c->pass_count; i++) {
        lengths = lengths && c->passes[i].length_mm > 0;
        times = times && c->passes[i].arc_s > 0;
    }
    return lengths ? BY_LENGTH : times ? BY_TIME : ALIKE;
}

static struct measure arc_energy(const struct coupon *c)
{
    enum weight by = weight_of(c);
    double sum = 0, weights = 0;
    size_t i;

    if (c->pass_count == 0) {
        struct pass_readings r = pass_readings_of(c, NULL);

        return number(pass_arc_energy(&r));
    }
    for (i = 0; i < c->pass_count; i++) {
        struct pass_readings r = pass_readings_of(c, &c->passes[i]);
        double energy = pass_arc_energy(&r);
        double weight = by == BY_LENGTH ? r.length_mm : by == BY_TIME ? r.arc_s : 1;

        if (isfinite(energy)) {
            sum += weight * energy;
            weights += weight;
        }
    }
    return weights > 0 ? number(sum / weights) : measure_missing();
}

static struct measure heat_input(const struct coupon *c)
{
    const struct heat_process *p = heat_process_named(coupon_text(c, "process"));
    struct measure energy = derived_value(c, "arc_energy");

    return p == NULL || energy.kind != MEASURE_EXACT ? measure_missing()
                                                     : number(p->k * energy.low);
}

static struct measure t85(const struct coupon *c)
{
    const struct cooling_joint *joint = cooling_joint_find(coupon_cooling_joint(c));
    struct measure q = derived_value(c, "heat_input");
    double start = coupon_start_c(c);

    if (q.kind != MEASURE_EXACT)
        return measure_missing();
    return number(cooling_time((struct kj_per_mm){q.low},
                               (struct celsius){isnan(start) ? 20 : start},
                               (struct mm){coupon_number(c, "thickness")}, joint)
                      .t85.v);
}

static struct measure throat_ratio(const struct coupon *c)
{
    double leg = coupon_number(c, "leg"), other = coupon_number(c, "leg_2");
    struct fillet f = fillet_from_legs((struct mm){leg}, (struct mm){isnan(other) ? leg : other});

    return number(f.throat.v / coupon_number(c, "thickness"));
}

static struct measure leg_ratio(const struct coupon *c)
{
    return number(coupon_number(c, "leg") / coupon_number(c, "thickness"));
}

static struct measure bend_angle(const struct coupon *c)
{
    struct bend_angle a = bend_from_included((struct degree){coupon_included_before(c)},
                                             (struct degree){coupon_included_after(c)});

    if (c->bend.end == BEND_NOT_DONE || isnan(a.angle.v))
        return measure_missing();
    return c->bend.end == BEND_HELD ? measure_at_least(a.angle.v) : measure_exact(a.angle.v);
}

static struct measure fused_share(const struct coupon *c)
{
    struct unfused u;

    if (!unfused_of(c, &u) || !(c->bead_mm > 0))
        return measure_missing();
    return number(100 * (1 - u.total_mm / c->bead_mm));
}

static struct measure longest_unfused(const struct coupon *c)
{
    struct unfused u;

    return unfused_of(c, &u) ? number(u.longest_mm) : measure_missing();
}

static struct measure unfused_at_start(const struct coupon *c)
{
    struct unfused u;

    return unfused_of(c, &u) ? number(u.at_start_mm) : measure_missing();
}

static struct measure peak_moment(const struct coupon *c)
{
    double moment = c->bend.load_n * c->bend.lever_mm / 1000;

    if (c->bend.end == BEND_NOT_DONE || !(moment > 0))
        return measure_missing();
    return c->bend.end == BEND_HELD ? measure_at_least(moment) : number(moment);
}

static struct measure first_crack_angle(const struct coupon *c)
{
    struct measure whole = derived_value(c, "bend_angle");

    if (c->bend.end == BEND_NOT_DONE)
        return measure_missing();
    if (!isnan(c->bend.first_crack_deg))
        return number(c->bend.first_crack_deg);
    if (!measure_known(whole))
        return measure_missing();
    return c->bend.end == BEND_HELD ? measure_at_least(whole.low) : measure_at_most(whole.high);
}

static const struct {
    const char *key;
    struct measure (*of)(const struct coupon *c);
} rows[] = {
    {"travel_speed", travel_speed},
    {"passes", passes},
    {"arc_energy", arc_energy},
    {"heat_input", heat_input},
    {"t85", t85},
    {"throat_ratio", throat_ratio},
    {"leg_ratio", leg_ratio},
    {"bend_angle", bend_angle},
    {"fused_share", fused_share},
    {"longest_unfused", longest_unfused},
    {"unfused_at_start", unfused_at_start},
    {"peak_moment", peak_moment},
    {"first_crack_angle", first_crack_angle},
};

const char *derived_key_at(size_t i)
{
    return i < sizeof rows / sizeof *rows ? rows[i].key : NULL;
}

bool derived_known(const char *key)
{
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strcmp(rows[i].key, key) == 0)
            return true;
    return false;
}

struct measure derived_value(const struct coupon *c, const char *key)
{
    const struct value *entered = coupon_value(c, key);
    size_t i;

    if (entered != NULL && measure_known(entered->measure))
        return entered->measure;
    for (i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strcmp(rows[i].key, key) == 0)
            return rows[i].of(c);
    return measure_missing();
}
