#include "weld/fillet.h"

#include <math.h>
#include <stddef.h>

struct fillet fillet_from_legs(struct mm leg1, struct mm leg2)
{
    struct fillet f = {leg1, leg2, {NAN}, {NAN}, {NAN}, NULL};

    if (!(leg1.v > 0) || !(leg2.v > 0) || isinf(leg1.v) || isinf(leg2.v)) {
        f.outside = "both legs must be above 0";
        return f;
    }
    f.throat.v = leg1.v * leg2.v / hypot(leg1.v, leg2.v);
    f.area.v = leg1.v * leg2.v / 2;
    f.mass.v = f.area.v * STEEL_KG_PER_MM3 * 1e6; /* kg/mm → g/m */
    return f;
}

struct fillet fillet_from_throat(struct mm throat)
{
    struct mm leg = {throat.v * sqrt(2)};

    return fillet_from_legs(leg, leg);
}
