/*
 * calc stock: bar to cut for a set of coupons.
 */
#include <math.h>

#include "calc/answer.h"
#include "weld/stock.h"

enum { COUPONS, MEMBERS, PIECE, KERF, BAR, ENDS, WIDTH, THICKNESS };

enum { OUT_PER_BAR, OUT_BARS, OUT_USED, OUT_LEFT, OUT_MASS };

static int work(struct calc_work *w, struct error *e)
{
    double pieces = w->in[COUPONS] * w->in[MEMBERS];
    struct cut c;

    if (isnan(pieces) || isnan(w->in[PIECE]))
        return 0;
    if (!(pieces >= 0 && pieces <= 1e6))
        return error_set(e, ERROR_INPUT, "coupons: from 0 to a million pieces");
    c = stock_cut((long)pieces, (struct mm){w->in[PIECE]}, (struct mm){w->in[KERF]},
                  (struct mm){w->in[BAR]}, (struct mm){w->in[ENDS]}, (struct mm){w->in[WIDTH]},
                  (struct mm){w->in[THICKNESS]});
    w->out[OUT_PER_BAR] = c.outside == NULL ? (double)c.per_bar : NAN;
    w->out[OUT_BARS] = c.outside == NULL ? (double)c.bars : NAN;
    w->out[OUT_USED] = c.used.v;
    w->out[OUT_LEFT] = c.left.v;
    w->out[OUT_MASS] = c.mass.v;
    w->why[OUT_PER_BAR] = c.outside;
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
