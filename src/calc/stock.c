/*
 * calc stock: bar to cut for a set of coupons. Arithmetic of cutting to length: the last cut of a
 * bar may fall into the waste. Kerf as measured: grinder 2 to 3 mm, saw 1 mm.
 */
#include <math.h>

#include "calc/answer.h"
#include "weld/fillet.h"

enum { COUPONS, MEMBERS, PIECE, KERF, BAR, ENDS, WIDTH, THICKNESS };

enum { OUT_PER_BAR, OUT_BARS, OUT_USED, OUT_LEFT, OUT_MASS };

/* Lengths are read to a tenth of a millimetre at best: a bar that fits to 10⁻⁹ fits. */
#define FITS 1e-9

static double taken(double pieces, double piece, double kerf)
{
    return pieces > 0 ? pieces * piece + (pieces - 1) * kerf : 0;
}

static int work(struct calc_work *w, struct error *e)
{
    double pieces = w->in[COUPONS] * w->in[MEMBERS], piece = w->in[PIECE], kerf = w->in[KERF];
    double usable = w->in[BAR] - w->in[ENDS], per_bar, full, on_last;

    if (isnan(pieces) || isnan(piece))
        return 0;
    if (!(pieces <= 1e6))
        return error_set(e, ERROR_INPUT, "coupons: from 0 to a million pieces");
    if (piece <= 0)
        w->why[OUT_PER_BAR] = "say how many pieces, and their length above 0";
    else if (usable < piece * (1 - FITS) || w->in[BAR] / (piece + kerf) > 1e6)
        w->why[OUT_PER_BAR] = "the bar gives no whole piece, or more than a million";
    if (w->why[OUT_PER_BAR] != NULL)
        return 0;
    per_bar = fmax(1, floor((usable + kerf) / (piece + kerf) + FITS));
    full = fmax(ceil(pieces / per_bar) - 1, 0); /* bars but the last */
    on_last = pieces - full * per_bar;
    w->out[OUT_PER_BAR] = per_bar;
    w->out[OUT_BARS] = ceil(pieces / per_bar);
    w->out[OUT_USED] = full * taken(per_bar, piece, kerf) + taken(on_last, piece, kerf);
    w->out[OUT_LEFT] = pieces > 0 ? fmax(0, usable - taken(on_last, piece, kerf) - kerf) : 0;
    w->out[OUT_MASS] = pieces * piece * w->in[WIDTH] * w->in[THICKNESS] * STEEL_KG_PER_MM3;
    return 0;
}

const struct calc_kind calc_stock = {
    .name = "stock",
    .summary = "Bars to cut for a set of coupons",
    .needs = "coupons and piece",
    .range = "piece above 0 and no longer than the bar; kerf and ends 0 or more",
    /* clang-format off */
    .arguments = {
        [COUPONS] = {.key = "coupons", .also = "pieces", .dimension = DIM_COUNT,
            .help = "how many are planned"},
        [MEMBERS] = {.key = "members", .dimension = DIM_COUNT, .usual = "1",
            .help = "pieces of this stock a coupon takes; 2 for a tee of one plate"},
        [PIECE] = {.key = "piece", .also = "length", .dimension = DIM_LENGTH,
            .help = "length of a piece"},
        [KERF] = {.key = "kerf", .dimension = DIM_LENGTH, .usual = "3 mm",
            .help = "width of a cut"},
        [BAR] = {.key = "bar", .dimension = DIM_LENGTH, .usual = "6000 mm",
            .help = "length of a bar"},
        [ENDS] = {.key = "ends", .dimension = DIM_LENGTH, .usual = "0 mm",
            .help = "length of a bar that is no use"},
        [WIDTH] = {.key = "width", .dimension = DIM_LENGTH, .help = "of the bar, for the mass"},
        [THICKNESS] = {.key = "thickness", .dimension = DIM_LENGTH,
            .help = "of the bar, for the mass"},
    },
    .outputs = {
        [OUT_PER_BAR] = {.key = "pieces_per_bar_count", .label = "Pieces from a bar",
            .dimension = DIM_COUNT, .formula = "⌊(bar − ends + kerf)/(piece + kerf)⌋",
            .source = "arithmetic of cutting to length"},
        [OUT_BARS] = {.key = "bars_count", .label = "Bars", .dimension = DIM_COUNT,
            .formula = "pieces/pieces per bar, rounded up",
            .source = "arithmetic of cutting to length"},
        [OUT_USED] = {IN_MM("stock"), .label = "Stock that goes",
            .formula = "n·piece + (n − 1)·kerf on each bar",
            .source = "arithmetic of cutting to length"},
        [OUT_LEFT] = {IN_MM("left"), .label = "Left of the last bar",
            .formula = "bar − ends − stock − kerf", .source = "arithmetic of cutting to length"},
        [OUT_MASS] = {IN_KG("stock_mass"), .label = "Mass of the pieces",
            .formula = "length · width · thickness · density",
            .source = "density of steel 0.283 lb/in³"},
    },
    /* clang-format on */
    .example = "coupons=20 members=2 piece=100 kerf=3 bar=6000",
    .work = work,
};
