/* One function a key, tried only when the value was not entered. */
#include "derived/derived.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/quantity.h"
#include "model/variable_key.h"
#include "weld/bendtest.h"
#include "weld/cooling.h"
#include "weld/fillet.h"
#include "weld/heat.h"
#include "weld/uncertainty.h"

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
    const char *joint = coupon_text(c, KEY_JOINT);
    const struct cooling_joint *row = cooling_joint_find(text_same(joint, "lap") ? "tee" : joint);

    return row != NULL ? row->name : "plate";
}

static struct measure number(double value)
{
    return isfinite(value) ? measure_exact(value) : measure_missing();
}

static struct measure travel_speed(const struct coupon *c)
{
    double length = 0, time = 0;

    for (size_t i = 0; i < c->pass_count; i++)
        if (c->passes[i].length_mm > 0 && c->passes[i].arc_s > 0) {
            length += c->passes[i].length_mm;
            time += c->passes[i].arc_s;
        }
    return number(60 * length / time);
}

static struct measure passes(const struct coupon *c)
{
    return number(c->pass_count > 0 ? (double)c->pass_count : NAN);
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

    for (size_t i = 0; i < c->pass_count; i++) {
        lengths = lengths && c->passes[i].length_mm > 0;
        times = times && c->passes[i].arc_s > 0;
    }
    return lengths ? BY_LENGTH : times ? BY_TIME : ALIKE;
}

static struct measure arc_energy(const struct coupon *c)
{
    enum weight by = weight_of(c);
    double sum = 0, weights = 0;

    if (c->pass_count == 0) {
        struct pass_readings r = pass_readings_of(c, NULL);

        return number(pass_arc_energy(&r));
    }
    for (size_t i = 0; i < c->pass_count; i++) {
        struct pass_readings r = pass_readings_of(c, &c->passes[i]);
        double energy = pass_arc_energy(&r);
        double weight = by == BY_LENGTH ? r.length_mm : by == BY_TIME ? r.arc_s : 1;

        if (isfinite(energy)) {
            sum += weight * energy;
            weights += weight;
        }
    }
    return number(sum / weights);
}

/* A value entered or worked out, when it is exact; else NAN. */
static double exact(const struct coupon *c, const char *key)
{
    struct measure m = coupon_measure(c, key);

    return m.kind == MEASURE_EXACT ? m.low : NAN;
}

static struct measure heat_input(const struct coupon *c)
{
    const struct heat_process *p = heat_process_named(coupon_text(c, KEY_PROCESS));

    return number(p == NULL ? NAN : p->k * exact(c, KEY_ARC_ENERGY));
}

static struct measure t85(const struct coupon *c)
{
    double start = coupon_start_c(c);

    return number(cooling_time((struct kj_per_mm){exact(c, KEY_HEAT_INPUT)},
                               (struct celsius){isnan(start) ? 20 : start},
                               (struct mm){coupon_number(c, KEY_THICKNESS)},
                               cooling_joint_find(coupon_cooling_joint(c)))
                      .t85.v);
}

static struct measure throat_ratio(const struct coupon *c)
{
    double leg = coupon_number(c, KEY_LEG), other = coupon_number(c, KEY_LEG_2);
    struct fillet f = fillet_from_legs((struct mm){leg}, (struct mm){isnan(other) ? leg : other});

    return number(f.throat.v / coupon_number(c, KEY_THICKNESS));
}

static struct measure leg_ratio(const struct coupon *c)
{
    return number(coupon_number(c, KEY_LEG) / coupon_number(c, KEY_THICKNESS));
}

/* A figure of the fold: at least, when the coupon held to the stop. */
static struct measure folded(const struct coupon *c, double value)
{
    if (c->bend.end == BEND_NOT_DONE || !isfinite(value))
        return measure_missing();
    return c->bend.end == BEND_HELD ? measure_at_least(value) : measure_exact(value);
}

static struct measure bend_angle(const struct coupon *c)
{
    return folded(c, bend_from_included((struct degree){coupon_included_before(c)},
                                        (struct degree){coupon_included_after(c)})
                         .angle.v);
}

struct stretch {
    double from, to;
};

/* Where along the bead the broken face shows no fusion; 0 where it does everywhere. */
struct unfused {
    double total_mm, longest_mm;
    double at_start_mm; /* of the stretch that begins at the start of the bead */
};

static int by_start(const void *a, const void *b)
{
    const struct stretch *x = a, *y = b;

    return (x->from > y->from) - (x->from < y->from);
}

/* The stretches of unfused flaws within the bead, in order of their start. */
static size_t collect(const struct coupon *c, struct stretch *list)
{
    double end = c->bead_mm > 0 ? c->bead_mm : INFINITY;
    size_t n = 0;

    for (size_t i = 0; i < c->flaw_count; i++) {
        const struct flaw *f = &c->flaws[i];
        const struct flaw_kind *kind = flaw_kind_find(f->iso6520);
        struct stretch s = {fmax(0, fmin(f->from_mm, f->to_mm)),
                            fmin(end, fmax(f->from_mm, f->to_mm))};

        if (kind != NULL && kind->unfused && !isnan(f->from_mm) && !isnan(f->to_mm) &&
            s.to > s.from)
            list[n++] = s;
    }
    qsort(list, n, sizeof *list, by_start);
    return n;
}

static void count_stretch(struct unfused *out, struct stretch s)
{
    double length = s.to - s.from;

    out->total_mm += length;
    out->longest_mm = fmax(out->longest_mm, length);
    if (s.from <= READING_MM)
        out->at_start_mm = fmax(out->at_start_mm, s.to);
}

/*
 * Flaws whose kind takes fusion away, overlapping and touching ones joined, cut to the bead where
 * its length is known. A stretch begins at the start when it does so within half a millimetre,
 * which is how close a rule is read. NAN when the face was not read.
 */
static struct unfused unfused_of(const struct coupon *c)
{
    struct unfused u = {0, 0, 0};
    struct stretch *list;
    size_t n;

    if (!c->face_read)
        return (struct unfused){NAN, NAN, NAN};
    list = mem_zero(c->flaw_count, sizeof *list);
    n = collect(c, list);
    for (size_t i = 0; i < n; i++) {
        struct stretch joined = list[i];

        while (i + 1 < n && list[i + 1].from <= joined.to)
            joined.to = fmax(joined.to, list[++i].to);
        count_stretch(&u, joined);
    }
    free(list);
    return u;
}

static struct measure fused_share(const struct coupon *c)
{
    return number(c->bead_mm > 0 ? 100 * (1 - unfused_of(c).total_mm / c->bead_mm) : NAN);
}

static struct measure longest_unfused(const struct coupon *c)
{
    return number(unfused_of(c).longest_mm);
}

static struct measure unfused_at_start(const struct coupon *c)
{
    return number(unfused_of(c).at_start_mm);
}

static struct measure peak_moment(const struct coupon *c)
{
    double moment = c->bend.load_n * c->bend.lever_mm / 1000;

    return folded(c, moment > 0 ? moment : NAN);
}

static struct measure first_crack_angle(const struct coupon *c)
{
    struct measure whole = coupon_measure(c, KEY_BEND_ANGLE);

    if (c->bend.end == BEND_NOT_DONE)
        return measure_missing();
    if (!isnan(c->bend.first_crack_deg))
        return number(c->bend.first_crack_deg);
    if (!measure_known(whole))
        return measure_missing();
    return c->bend.end == BEND_HELD ? measure_at_least(whole.low) : measure_at_most(whole.high);
}

static const struct row {
    const char *key;
    struct measure (*of)(const struct coupon *c);
} rows[] = {
    {KEY_TRAVEL_SPEED, travel_speed},
    {KEY_PASSES, passes},
    {KEY_ARC_ENERGY, arc_energy},
    {KEY_HEAT_INPUT, heat_input},
    {KEY_T85, t85},
    {KEY_THROAT_RATIO, throat_ratio},
    {KEY_LEG_RATIO, leg_ratio},
    {KEY_BEND_ANGLE, bend_angle},
    {KEY_FUSED_SHARE, fused_share},
    {KEY_LONGEST_UNFUSED, longest_unfused},
    {KEY_UNFUSED_AT_START, unfused_at_start},
    {KEY_PEAK_MOMENT, peak_moment},
    {KEY_FIRST_CRACK_ANGLE, first_crack_angle},
};

static const struct row *find_row(const char *key)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strcmp(rows[i].key, key) == 0)
            return &rows[i];
    return NULL;
}

bool coupon_works_out(const char *key)
{
    return find_row(key) != NULL;
}

static struct measure worked_out(const struct coupon *c, const char *key)
{
    const struct row *row = find_row(key);

    return row == NULL ? measure_missing() : row->of(c);
}

struct measure coupon_measure(const struct coupon *c, const char *key)
{
    const struct value *value = coupon_value(c, key);

    return value != NULL && value->kind == VARIABLE_NUMBER ? value->measure : worked_out(c, key);
}

void measure_show(char *out, size_t size, struct measure m, const struct variable *v,
                  enum unit_system units)
{
    size_t used;

    measure_format(out, size, m, v->dimension, units);
    used = strlen(out);
    if (v->unit != NULL && *v->unit != '\0' && m.kind != MEASURE_MISSING)
        snprintf(out + used, size - used, " %s", v->unit);
}

void coupon_show(char *out, size_t size, const struct coupon *c, const struct variable *v,
                 enum unit_system units)
{
    const struct value *value = coupon_value(c, v->key);
    struct measure m;

    if (value != NULL) {
        value_show(out, size, value, v, units);
        return;
    }
    m = worked_out(c, v->key);
    if (m.kind == MEASURE_MISSING)
        snprintf(out, size, "%s", "");
    else
        measure_show(out, size, m, v, units);
}
