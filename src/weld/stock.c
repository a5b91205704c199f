#include "weld/stock.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

#include "weld/fillet.h"

/* Lengths are read to a tenth of a millimetre at best: a bar that fits to 10⁻⁹ fits. */
static long pieces_from(double length, double piece, double kerf)
{
    return length < piece * (1 - 1e-9) ? 0 : (long)floor((length + kerf) / (piece + kerf) + 1e-9);
}

static double taken(long pieces, double piece, double kerf)
{
    return pieces > 0 ? (double)pieces * piece + (double)(pieces - 1) * kerf : 0;
}

static const char *outside_range(long pieces, double piece, double kerf, double bar, double ends)
{
    if (pieces < 0 || !(piece > 0))
        return "say how many pieces, and their length above 0";
    if (!(kerf >= 0) || !(ends >= 0))
        return "kerf and unusable ends must be 0 or more";
    if (!(bar - ends >= piece * (1 - 1e-9)) || bar / (piece + kerf) > 1e6)
        return "the bar gives no whole piece, or more than a million";
    return NULL;
}

struct cut stock_cut(long pieces, struct mm piece, struct mm kerf, struct mm bar, struct mm ends,
                     struct mm width, struct mm thickness)
{
    struct cut c = {0, 0, {NAN}, {NAN}, {NAN}, NULL};
    double usable = bar.v - ends.v;
    long on_last;

    c.outside = outside_range(pieces, piece.v, kerf.v, bar.v, ends.v);
    if (c.outside != NULL)
        return c;
    c.per_bar = pieces_from(usable, piece.v, kerf.v);
    assert(c.per_bar > 0);
    c.bars = (pieces + c.per_bar - 1) / c.per_bar;
    on_last = pieces - (c.bars > 0 ? c.bars - 1 : 0) * c.per_bar;
    c.used.v = (double)(c.bars > 0 ? c.bars - 1 : 0) * taken(c.per_bar, piece.v, kerf.v) +
               taken(on_last, piece.v, kerf.v);
    c.left.v = pieces > 0 ? fmax(0, usable - taken(on_last, piece.v, kerf.v) - kerf.v) : 0;
    c.mass.v = (double)pieces * piece.v * width.v * thickness.v * STEEL_KG_PER_MM3;
    return c;
}
