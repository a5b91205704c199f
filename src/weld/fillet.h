/*
 * The fillet weld as a triangle between two members at a right angle.
 *
 *   equal legs z:    throat a = z/√2 = 0.7071·z, area z²/2
 *   unequal legs:    a = z₁·z₂/√(z₁² + z₂²), area z₁·z₂/2
 *   mass per length: area × density of steel, 0.283 lb/in³ = 7833.4 kg/m³ exactly converted
 *
 * Source: geometry (ISO 17659, AWS A3.0 for the names); the density is the one filler-metal
 * consumption tables use (½ in fillet: 0.424 lb/ft). A convex face carries more metal and no more
 * throat; a gap at the root takes throat away: neither is in these figures.
 * Range: legs above 0, members at 90°.
 */
#ifndef WELD_FILLET_H
#define WELD_FILLET_H

#include "model/units.h"

/* kg/mm³ of steel: 0.283 lb/in³. */
#define STEEL_KG_PER_MM3 (0.283 * 0.45359237 / (25.4 * 25.4 * 25.4))

struct fillet {
    struct mm leg1, leg2;
    struct mm throat;
    struct mm2 area;
    struct g_per_m mass;
    const char *outside; /* NULL inside the range; else why, and the figures are NAN */
};

struct fillet fillet_from_legs(struct mm leg1, struct mm leg2);
struct fillet fillet_from_throat(struct mm throat); /* equal legs */

#endif
