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
#include "derived/derived.h"
#include "derived/strength_reached.h"
#include "model/variable_key.h"
#include "weld/duty.h"
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

/* Works out a kind from entries, up to a NULL key, and keeps the figures a card shows. */
static void take(struct card *card, const struct calc_kind *kind, int pass,
                 const struct calc_entry *entries)
{
    struct calc_inputs in;
    struct calc_answer a;
    struct error e;

    calc_inputs_start(&in);
    for (; entries->key != NULL; entries++)
        calc_inputs_put(&in, kind, entries);
    calc_inputs_usual(&in, kind);
    if (calc_answer_make(kind, &in, card->units, &a, &e) == 0) {
        for (size_t i = 0; i < a.figure_count; i++)
            if (a.figures[i].card && (a.figures[i].outside || !isnan(a.figures[i].value)))
                *add(card, pass) = a.figures[i];
        calc_answer_free(&a);
    }
    calc_inputs_free(&in);
}

static void take_heat(struct card *card, const struct pass *pass)
{
    struct pass_readings r = pass_readings_of(card->coupon, pass);
    const struct heat_process *p = heat_process_named(coupon_text(card->coupon, KEY_PROCESS));
    size_t before = card->out->count;

    take(card, &calc_heat, pass == NULL ? 0 : pass->number,
         (const struct calc_entry[]){{"volts", .value = r.volts},
                                     {"amps", .value = r.amps},
                                     {"speed", .value = r.speed},
                                     {"length", .value = r.length_mm},
                                     {"time", .value = r.arc_s},
                                     {"k", .value = p == NULL ? NAN : p->k},
                                     {.key = NULL}});
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

    if (q.kind != MEASURE_EXACT)
        return;
    take(card, &calc_cooling, 0,
         (const struct calc_entry[]){
             {"heat_input", .value = q.low, .error = q.low * heat_error(card)},
             {"preheat", .value = start},
             {"thickness", .value = coupon_number(card->coupon, KEY_THICKNESS)},
             {"joint", .word = coupon_cooling_joint(card->coupon)},
             {.key = NULL}});
    note(card, "t8/5 is an index to compare coupons by: small ones cool more slowly than the wide "
               "plates of the formula.");
    if (card->coupon->pass_count > 1)
        note(card,
             "t8/5 rests on the mean heat input of the passes, each by its length; heat inputs "
             "are not added up.");
    if (isnan(start))
        note(card, "Temperature before the first pass not noted: 20 °C was taken for t8/5.");
}

static void take_fillet(struct card *card)
{
    double leg = coupon_number(card->coupon, KEY_LEG);
    double other = coupon_number(card->coupon, KEY_LEG_2);

    if (isnan(leg))
        return;
    take(card, &calc_fillet, 0,
         (const struct calc_entry[]){
             {isnan(other) ? "leg" : "leg1", .value = leg},
             {"leg2", .value = other},
             {"thickness", .value = coupon_number(card->coupon, KEY_THICKNESS)},
             {.key = NULL}});
}

static void note_strengths(struct card *card, double yield, double strength)
{
    char text[240];

    snprintf(
        text, sizeof text,
        "Hinge check with plate yield %.0f MPa%s and weld strength %.0f MPa%s, the root taken as "
        "fused; it sorts coupons and permits no load.",
        isnan(yield) ? HINGE_USUAL_YIELD : yield, isnan(yield) ? " (usual; grade not known)" : "",
        isnan(strength) ? HINGE_USUAL_STRENGTH : strength,
        isnan(strength) ? " (usual; class not known)" : "");
    note(card, text);
}

static void take_hinge(struct card *card)
{
    const struct coupon *c = card->coupon;
    double leg = coupon_number(c, KEY_LEG), other = coupon_number(c, KEY_LEG_2);
    double thickness = coupon_number(c, KEY_THICKNESS);
    double yield = strength_yield_of(coupon_text(c, KEY_BASE_METAL));
    double strength = strength_weld_of(coupon_text(c, KEY_WIRE_CLASS));

    if (!text_same(coupon_text(c, KEY_JOINT), "tee") || isnan(leg) || isnan(thickness))
        return;
    take(card, &calc_hinge, 0,
         (const struct calc_entry[]){
             {isnan(other) ? "leg" : "leg1", .value = leg},
             {"leg2", .value = other},
             {"thickness", .value = thickness},
             {"yield", .value = yield},
             {"weld_strength", .value = strength},
             {"sides", .word = text_same(coupon_text(c, KEY_SIDES), "both") ? "2" : "1"},
             {"opening", .word = c->bend.direction == BEND_FACE_OPENING ? "face" : "root"},
             {.key = NULL}});
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

    if (c->bend.end == BEND_NOT_DONE)
        return;
    take(card, &calc_bend, 0,
         (const struct calc_entry[]){{"before", .value = by_gap ? NAN : before},
                                     {"gap_before", .value = by_gap ? c->bend.before_gap_mm : NAN},
                                     {"after", .value = isnan(before) ? NAN : c->bend.after_deg},
                                     {"gap", .value = isnan(before) ? NAN : c->bend.after_gap_mm},
                                     {"leg", .value = c->bend.leg_mm},
                                     {"thickness", .value = coupon_number(c, KEY_THICKNESS)},
                                     {"radius", .value = c->bend.inside_radius_mm},
                                     {"former", .value = c->bend.former_mm},
                                     {.key = NULL}});
    if (c->bend.end == BEND_HELD)
        mark_held(card, from);
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

/* The passes laid end to end by their pauses; nothing when a time or a pause is missing. */
static void take_duty(struct card *card)
{
    const struct coupon *c = card->coupon;
    struct duty_span *spans = mem_zero(c->pass_count, sizeof *spans);
    double clock = 0;

    for (size_t i = 0; i < c->pass_count; i++) {
        clock += i > 0 ? c->passes[i].pause_s : 0;
        spans[i].from_s = clock;
        clock += c->passes[i].arc_s;
        spans[i].to_s = clock;
    }
    if (c->pass_count > 0)
        put(card, &calc_duty, "duty_used_pct", duty_worst(spans, c->pass_count).share.v);
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
