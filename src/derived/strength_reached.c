#include "derived/strength_reached.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "base/text.h"
#include "derived/derived.h"
#include "model/quantity.h"
#include "model/variable_key.h"
#include "weld/fillet.h"
#include "weld/uncertainty.h"

#define YIELD_ERROR 0.2

struct strength {
    const char *start; /* of the name */
    double mpa;
};

static const struct strength yields[] = {
    {"S235", 235}, {"S275", 275}, {"S355", 355}, {"A36", 250}, {NULL, NAN}};

/* 70 ksi is 483 MPa; the metric form of the same classes says 490 or 480: the least of them. */
static const struct strength welds[] = {{"ER70", 480}, {"E71", 480},  {"E70", 480},
                                        {"E60", 430},  {"G 42", 500}, {NULL, NAN}};

static double find(const struct strength *rows, const char *name)
{
    for (size_t i = 0; name != NULL && rows[i].start != NULL; i++)
        if (text_starts(name, rows[i].start))
            return rows[i].mpa;
    return NAN;
}

double strength_yield_of(const char *base_metal)
{
    return find(yields, base_metal);
}

double strength_weld_of(const char *wire_class)
{
    return find(welds, wire_class);
}

static double moment_of(const struct coupon *c)
{
    return c->bend.load_n * c->bend.lever_mm / c->bead_mm;
}

/* False when the coupon says nothing of its weld's strength; sizes not known are left to the fit.
 */
static bool read_coupon(const struct coupon *c, struct hinge_coupon *out)
{
    double leg = coupon_number(c, KEY_LEG), other = coupon_number(c, KEY_LEG_2);
    double yield = strength_yield_of(coupon_text(c, KEY_BASE_METAL));

    if (!text_same(coupon_text(c, KEY_JOINT), "tee") || c->bend.end == BEND_NOT_DONE ||
        c->struck_why != NULL)
        return false;
    *out = (struct hinge_coupon){
        .joint =
            {.thickness = {coupon_number(c, KEY_THICKNESS)},
             .throat =
                 fillet_from_legs((struct mm){leg}, (struct mm){isnan(other) ? leg : other}).throat,
             .yield = {isnan(yield) ? HINGE_USUAL_YIELD : yield},
             .sides = text_same(coupon_text(c, KEY_SIDES), "both") ? 2 : 1,
             .opening = c->bend.direction == BEND_FACE_OPENING ? HINGE_FACE : HINGE_ROOT},
        .held = c->bend.end == BEND_HELD,
        .moment = {moment_of(c)},
        .thickness_error = {READING_CALIPER_MM},
        .throat_error = {READING_MM / sqrt(2)},
        .yield_error = isnan(moment_of(c)) ? YIELD_ERROR : 0,
    };
    return true;
}

struct hinge_fit strength_reached(const struct coupon_list *coupons)
{
    struct hinge_coupon *list = mem_zero(coupons->count, sizeof *list);
    struct hinge_fit fit;
    size_t n = 0;

    for (size_t i = 0; i < coupons->count; i++)
        n += read_coupon(&coupons->items[i], &list[n]);
    fit = hinge_fit(list, n);
    free(list);
    return fit;
}

void strength_sentence(char *out, size_t size, const struct hinge_fit *fit, enum unit_system units)
{
    char least[64], most[64];
    bool below = fit->at_least.v > 0, above = isfinite(fit->at_most.v);

    quantity_format(least, sizeof least, fit->at_least.v, DIM_STRESS, units);
    quantity_format(most, sizeof most, fit->at_most.v, DIM_STRESS, units);
    if (!below && !above)
        snprintf(out, size, "%s", "");
    else if (fit->contradict)
        snprintf(out, size,
                 "%zu held and %zu broken tee coupons contradict each other: some weld reached %s, "
                 "another gave way at %s. They scatter more than their readings do.",
                 fit->held, fit->broke, least, most);
    else
        snprintf(out, size,
                 "%zu held and %zu broken tee coupons: the weld reaches %s%s%s%s%s on its measured "
                 "throat.",
                 fit->held, fit->broke, below ? "at least " : "", below ? least : "",
                 below && above ? " and " : "", above ? "at most " : "", above ? most : "");
}
