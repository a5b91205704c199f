/*
 * calc stock: bar to cut for a set of coupons.
 */
#include <math.h>
#include <stddef.h>

#include "app/calc_work.h"
#include "weld/stock.h"

enum { COUPONS, MEMBERS, PIECE, KERF, BAR, ENDS, WIDTH, THICKNESS };

static const struct calc_argument arguments[] = {
    {"coupons", "pieces", CALC_QUANTITY, DIM_COUNT, NULL, NULL, NULL, 0, "how many are planned"},
    {"members", NULL, CALC_QUANTITY, DIM_COUNT, NULL, NULL, "1", 0,
     "pieces of this stock a coupon takes; 2 for a tee of one plate"},
    {"piece", "length", CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, 0, "length of a piece"},
    {"kerf", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, "3 mm", 0, "width of a cut"},
    {"bar", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, "6000 mm", 0, "length of a bar"},
    {"ends", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, "0 mm", 0,
     "length of a bar that is no use"},
    {"width", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, 0, "of the bar, for the mass"},
    {"thickness", NULL, CALC_QUANTITY, DIM_LENGTH, "mm", NULL, NULL, 0, "of the bar, for the mass"},
    {NULL, NULL, CALC_TEXT, DIM_NUMBER, NULL, NULL, NULL, 0, NULL},
};

enum { OUT_PER_BAR, OUT_BARS, OUT_USED, OUT_LEFT, OUT_MASS };

static const struct calc_output outputs[] = {
    {"pieces_per_bar_count", "Pieces from a bar", DIM_COUNT, "", NULL, NULL,
     "⌊(bar − ends + kerf)/(piece + kerf)⌋", "arithmetic of cutting to length"},
    {"bars_count", "Bars", DIM_COUNT, "", NULL, NULL, "pieces/pieces per bar, rounded up",
     "arithmetic of cutting to length"},
    {"stock_mm", "Stock that goes", DIM_LENGTH, "mm", "stock_in", "in",
     "n·piece + (n − 1)·kerf on each bar", "arithmetic of cutting to length"},
    {"left_mm", "Left of the last bar", DIM_LENGTH, "mm", "left_in", "in",
     "bar − ends − stock − kerf", "arithmetic of cutting to length"},
    {"stock_mass_kg", "Mass of the pieces", DIM_MASS, "kg", "stock_mass_lb", "lb",
     "length · width · thickness · density", "density of steel 0.283 lb/in³"},
    {NULL, NULL, DIM_NUMBER, NULL, NULL, NULL, NULL, NULL},
};

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
    .arguments = arguments,
    .outputs = outputs,
    .example = "coupons=20 members=2 piece=100 kerf=3 bar=6000",
    .work = work,
};
