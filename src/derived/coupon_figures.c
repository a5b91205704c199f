/*
 * The card's figures: a coupon's entries are put into the kinds of calc, and the figures a card has
 * room for are taken out of the answers.
 */
#include "derived/coupon_figures.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "calc/inputs.h"
#include "derived/derived.h"
#include "derived/pass_readings.h"
#include "derived/strength_reached.h"
#include "model/variable_key.h"
#include "weld/duty.h"
#include "weld/heat.h"
#include "weld/wire.h"

struct card {
    const struct coupon *coupon;
    enum unit_system units;
    struct coupon_figures *out;
};

static struct calc_figure *add(struct card *card, int pass)
{
    struct coupon_figures *f = card->out;

    f->items = array_reserve(f->items, &f->capacity, f->count + 1, sizeof *f->items);
    f->items[f->count].pass = pass;
    return &f->items[f->count++].figure;
}

static void note(struct card *card, const char *text)
{
    struct coupon_figures *f = card->out;

    for (size_t i = 0; i < f->note_count; i++)
        if (strcmp(f->notes[i], text) == 0)
            return;
    f->notes = array_reserve(f->notes, &f->note_capacity, f->note_count + 1, sizeof *f->notes);
    f->notes[f->note_count++] = mem_copy(text);
}

static bool among(const char *const *keys, const char *key)
{
    while (*keys != NULL && strcmp(*keys, key) != 0)
        keys++;
    return *keys != NULL;
}

/* Works out a kind and keeps the figures named in `keys`, NULL behind the last. Frees `in`. */
static void take(struct card *card, const struct calc_kind *kind, struct calc_inputs *in, int pass,
                 const char *const *keys)
{
    struct calc_answer a;
    struct error e;

    calc_inputs_usual(in, kind);
    if (calc_answer_make(kind, in, card->units, &a, &e) == 0) {
        for (size_t i = 0; i < a.figure_count; i++)
            if (among(keys, a.figures[i].key) &&
                (a.figures[i].outside || !isnan(a.figures[i].value)))
                *add(card, pass) = a.figures[i];
        calc_answer_free(&a);
    }
    calc_inputs_free(in);
}

static void take_heat(struct card *card, const struct pass *pass)
{
    struct pass_readings r = pass_readings_of(card->coupon, pass);
    const struct heat_process *p = heat_process_named(coupon_text(card->coupon, KEY_PROCESS));
    size_t before = card->out->count;
    struct calc_inputs in;

    calc_inputs_start(&in);
    calc_inputs_number(&in, &calc_heat, "volts", r.volts);
    calc_inputs_number(&in, &calc_heat, "amps", r.amps);
    calc_inputs_number(&in, &calc_heat, "speed", r.speed);
    calc_inputs_number(&in, &calc_heat, "length", r.length_mm);
    calc_inputs_number(&in, &calc_heat, "time", r.arc_s);
    calc_inputs_number(&in, &calc_heat, "k", p == NULL ? NAN : p->k);
    take(card, &calc_heat, &in, pass == NULL ? 0 : pass->number,
         (const char *const[]){"arc_energy_kj_per_mm", "heat_input_kj_per_mm",
                               "travel_speed_mm_per_min", NULL});
    if (p == NULL && card->out->count > before)
        note(card, "Heat input needs the process, for its k; arc energy does not.");
}

/* Largest ± of a pass's heat input, as a share: the meters are the same for all of them. */
static double heat_error(const struct card *card)
{
    double share = 0;

    for (size_t i = 0; i < card->out->count; i++) {
        const struct calc_figure *f = &card->out->items[i].figure;

        if (strcmp(f->key, "heat_input_kj_per_mm") == 0 && f->error > 0)
            share = fmax(share, f->error / f->value);
    }
    return share;
}

static void take_cooling(struct card *card)
{
    struct measure q = coupon_measure(card->coupon, KEY_HEAT_INPUT);
    double start = coupon_start_c(card->coupon);
    struct calc_inputs in;

    if (q.kind != MEASURE_EXACT)
        return;
    calc_inputs_start(&in);
    calc_inputs_number(&in, &calc_cooling, "heat_input", q.low);
    calc_inputs_error(&in, &calc_cooling, "heat_input", q.low * heat_error(card));
    calc_inputs_number(&in, &calc_cooling, "preheat", start);
    calc_inputs_number(&in, &calc_cooling, "thickness", coupon_number(card->coupon, KEY_THICKNESS));
    calc_inputs_choice(&in, &calc_cooling, "joint", coupon_cooling_joint(card->coupon));
    take(card, &calc_cooling, &in, 0, (const char *const[]){"t85_s", NULL});
    note(card, "t8/5 is an index to compare coupons by: small ones cool more slowly than the wide "
               "plates of the formula.");
    if (card->coupon->pass_count > 1)
        note(card,
             "t8/5 rests on the mean heat input of the passes, each by its length; heat inputs "
             "are not added up.");
    if (isnan(start))
        note(card, "Temperature before the first pass not noted: 20 °C was taken for t8/5.");
}

static void put_legs(const struct coupon *c, struct calc_inputs *in, const struct calc_kind *kind)
{
    double leg = coupon_number(c, KEY_LEG), other = coupon_number(c, KEY_LEG_2);

    if (isnan(other)) {
        calc_inputs_number(in, kind, "leg", leg);
        return;
    }
    calc_inputs_number(in, kind, "leg1", leg);
    calc_inputs_number(in, kind, "leg2", other);
}

static void take_fillet(struct card *card)
{
    struct calc_inputs in;

    if (isnan(coupon_number(card->coupon, KEY_LEG)))
        return;
    calc_inputs_start(&in);
    put_legs(card->coupon, &in, &calc_fillet);
    calc_inputs_number(&in, &calc_fillet, "thickness", coupon_number(card->coupon, KEY_THICKNESS));
    take(card, &calc_fillet, &in, 0,
         (const char *const[]){"throat_mm", "throat_to_thickness", NULL});
}

static void note_strengths(struct card *card, double yield, double strength)
{
    char text[240];

    snprintf(
        text, sizeof text,
        "Hinge check with plate yield %.0f MPa%s and weld strength %.0f MPa%s, the root taken as "
        "fused; it sorts coupons and permits no load.",
        isnan(yield) ? 250 : yield, isnan(yield) ? " (usual; grade not known)" : "",
        isnan(strength) ? 480 : strength, isnan(strength) ? " (usual; class not known)" : "");
    note(card, text);
}

static void take_hinge(struct card *card)
{
    const struct coupon *c = card->coupon;
    double yield = strength_yield_of(coupon_text(c, KEY_BASE_METAL));
    double strength = strength_weld_of(coupon_text(c, KEY_WIRE_CLASS));
    const char *sides = coupon_text(c, KEY_SIDES);
    struct calc_inputs in;

    if (!text_same(coupon_text(c, KEY_JOINT), "tee") || isnan(coupon_number(c, KEY_LEG)) ||
        isnan(coupon_number(c, KEY_THICKNESS)))
        return;
    calc_inputs_start(&in);
    put_legs(c, &in, &calc_hinge);
    calc_inputs_number(&in, &calc_hinge, "thickness", coupon_number(c, KEY_THICKNESS));
    calc_inputs_number(&in, &calc_hinge, "yield", yield);
    calc_inputs_number(&in, &calc_hinge, "weld_strength", strength);
    calc_inputs_choice(&in, &calc_hinge, "sides", text_same(sides, "both") ? "2" : "1");
    calc_inputs_choice(&in, &calc_hinge, "opening",
                       c->bend.direction == BEND_FACE_OPENING ? "face" : "root");
    take(card, &calc_hinge, &in, 0,
         (const char *const[]){"weld_to_plate", "throat_needed_mm", NULL});
    note_strengths(card, yield, strength);
}

/* A coupon held to the stop bends at least so far. */
static void mark_held(struct card *card, size_t from)
{
    char shown[sizeof((struct calc_figure *)0)->shown];

    for (size_t i = from; i < card->out->count; i++) {
        struct calc_figure *f = &card->out->items[i].figure;

        if (strcmp(f->key, "bend_angle_deg") != 0 || isnan(f->value))
            continue;
        memcpy(shown, f->shown, sizeof shown);
        snprintf(f->shown, sizeof f->shown, "at least %.100s", shown);
    }
}

static void take_bend(struct card *card)
{
    const struct coupon *c = card->coupon;
    bool by_gap = isnan(c->bend.before_deg) && !isnan(c->bend.before_gap_mm);
    double before = coupon_included_before(c);
    size_t from = card->out->count;
    struct calc_inputs in;

    if (c->bend.end == BEND_NOT_DONE)
        return;
    calc_inputs_start(&in);
    calc_inputs_number(&in, &calc_bend, by_gap ? "gap_before" : "before",
                       by_gap ? c->bend.before_gap_mm : before);
    if (!isnan(before)) {
        calc_inputs_number(&in, &calc_bend, "after", c->bend.after_deg);
        calc_inputs_number(&in, &calc_bend, "gap", c->bend.after_gap_mm);
    }
    calc_inputs_number(&in, &calc_bend, "leg", c->bend.leg_mm);
    calc_inputs_number(&in, &calc_bend, "thickness", coupon_number(c, KEY_THICKNESS));
    calc_inputs_number(&in, &calc_bend, "radius", c->bend.inside_radius_mm);
    calc_inputs_number(&in, &calc_bend, "former", c->bend.former_mm);
    take(card, &calc_bend, &in, 0,
         (const char *const[]){"bend_angle_deg", "outer_strain_pct", NULL});
    if (c->bend.end == BEND_HELD)
        mark_held(card, from);
}

/* The arcs on one clock; false when a time or a pause is missing. The caller frees *spans. */
static bool spans_of(const struct coupon *c, struct duty_span **spans)
{
    double clock = 0;

    *spans = mem_zero(c->pass_count, sizeof **spans);
    for (size_t i = 0; i < c->pass_count; i++) {
        const struct pass *p = &c->passes[i];

        if (!(p->arc_s >= 0) || (i > 0 && !(p->pause_s >= 0)))
            return false;
        clock += i > 0 ? p->pause_s : 0;
        (*spans)[i] = (struct duty_span){clock, clock + p->arc_s};
        clock += p->arc_s;
    }
    return c->pass_count > 0;
}

double coupon_duty_pct(const struct coupon *c, int pass)
{
    struct duty_span *spans;
    double share = NAN;

    if (spans_of(c, &spans))
        for (size_t i = 0; i < c->pass_count; i++)
            if (c->passes[i].number == pass)
                share = duty_last(spans, i + 1, spans[i].to_s).share.v;
    free(spans);
    return share;
}

/* One figure of a kind's table with a value worked out here. */
static void put(struct card *card, const struct calc_kind *kind, const char *key, double value)
{
    const struct calc_output *row = kind->outputs;

    while (row->key != NULL && strcmp(row->key, key) != 0)
        row++;
    if (row->key != NULL && isfinite(value))
        calc_figure_fill(add(card, 0), row, false, value, NAN, card->units);
}

static void take_duty(struct card *card)
{
    struct duty_span *spans;

    if (spans_of(card->coupon, &spans))
        put(card, &calc_duty, "duty_used_pct", duty_worst(spans, card->coupon->pass_count).share.v);
    free(spans);
}

/* Arc time and wire of all passes, for what a technique costs; NAN unless every pass has them. */
static void take_effort(struct card *card)
{
    const struct coupon *c = card->coupon;
    double set_feed = coupon_number(c, KEY_WIRE_FEED_SPEED), arc = 0, wire = 0;

    for (size_t i = 0; i < c->pass_count; i++) {
        const struct pass *p = &c->passes[i];
        double feed = isnan(p->feed_mm_per_min) ? set_feed : p->feed_mm_per_min;

        arc += p->arc_s;
        wire += wire_run_out((struct mm_per_min){feed}, (struct seconds){p->arc_s}).v;
    }
    if (c->pass_count == 0)
        return;
    put(card, &calc_duty, "arc_time_s", arc);
    put(card, &calc_wire, "coupon_wire_m", wire);
}

void coupon_figures(const struct coupon *c, enum unit_system units, struct coupon_figures *out)
{
    struct card card = {c, units, out};

    memset(out, 0, sizeof *out);
    for (size_t i = 0; i < c->pass_count; i++)
        take_heat(&card, &c->passes[i]);
    if (c->pass_count == 0)
        take_heat(&card, NULL);
    take_cooling(&card);
    take_effort(&card);
    take_duty(&card);
    take_fillet(&card);
    take_hinge(&card);
    take_bend(&card);
}

void coupon_figures_free(struct coupon_figures *f)
{
    for (size_t i = 0; i < f->note_count; i++)
        free(f->notes[i]);
    free(f->notes);
    free(f->items);
    memset(f, 0, sizeof *f);
}
