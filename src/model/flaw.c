/* ISO 6520-1 numbers usual on a broken face. */
#include "model/coupon.h"
#include "model/quantity.h"

#include <stddef.h>

/* "unfused" marks what leaves the plates unjoined where it lies. */
static const struct flaw_kind kinds[] = {
    {401, "lack of fusion", true},
    {4011, "lack of side-wall fusion", true},
    {4012, "lack of fusion between runs", true},
    {4013, "lack of root fusion", true},
    {402, "incomplete penetration", true},
    {4021, "incomplete root penetration", true},
    {506, "overlap", true},
    {510, "burn-through", true},
    {301, "slag", true},
    {517, "poor restart", false},
    {100, "crack", false},
    {104, "crater crack", false},
    {2011, "gas pore", false},
    {2013, "clustered pores", false},
    {2017, "surface pore", false},
    {5011, "undercut, continuous", false},
    {5012, "undercut, in places", false},
    {512, "uneven fillet legs", false},
    {601, "stray arc", false},
    {602, "spatter", false},
};

enum { KINDS = sizeof kinds / sizeof *kinds };

const struct flaw_kind *flaw_kind_at(size_t i)
{
    return i < KINDS ? &kinds[i] : NULL;
}

const struct flaw_kind *flaw_kind_find(int iso6520)
{
    for (size_t i = 0; i < KINDS; i++)
        if (kinds[i].iso6520 == iso6520)
            return &kinds[i];
    return NULL;
}

/* The ends of a length in inches and in millimetres may differ by this much [mm]. */
static const double SAME_PLACE_MM = 1e-6;

int coupon_check_face(const struct coupon *c, enum unit_system units, struct error *e)
{
    char end[ENTRY_SIZE], other[ENTRY_SIZE];

    for (size_t i = 0; i < c->flaw_count; i++) {
        const struct flaw *f = &c->flaws[i];
        bool reversed = f->from_mm > f->to_mm;

        if (!reversed && !(f->to_mm > c->bead_mm + SAME_PLACE_MM))
            continue;
        quantity_format(end, sizeof end, f->to_mm, DIM_LENGTH, units);
        quantity_format(other, sizeof other, reversed ? f->from_mm : c->bead_mm, DIM_LENGTH, units);
        return error_set(e, ERROR_INPUT,
                         reversed ? "a flaw ends at %s, but begins at %s"
                                  : "a flaw ends at %s, but the face is %s long",
                         end, other);
    }
    return 0;
}
