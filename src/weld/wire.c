/*
 * From wire to weld metal. Everything is mass of wire a length, so that solid and cored wire go the
 * same way.
 */
#include "weld/wire.h"

#include <math.h>
#include <stdbool.h>

#include "weld/fillet.h"

#define MM_PER_M 1000.0
#define G_PER_M_OF_AREA (STEEL_KG_PER_MM3 * 1e6) /* g/m of 1 mm² of steel */

struct wire wire_solid(struct mm diameter)
{
    double area = diameter.v > 0 ? M_PI / 4 * diameter.v * diameter.v : NAN;

    return (struct wire){diameter, {area * G_PER_M_OF_AREA}};
}

struct wire wire_cored(struct mm diameter, struct g_per_m mass)
{
    return (struct wire){diameter, {mass.v > 0 ? mass.v : NAN}};
}

static const char *outside_range(struct wire w, double feed, double efficiency, double travel)
{
    if (!(w.mass.v > 0))
        return "the wire's diameter, or its mass per metre, must be above 0";
    if (!(feed > 0))
        return "the wire feed must be above 0";
    if (!(efficiency > 0 && efficiency <= 1))
        return "the efficiency must be above 0 and at most 1 (100 %)";
    if (travel <= 0)
        return "the travel speed must be above 0";
    return NULL;
}

struct deposit wire_deposit(struct wire w, struct mm_per_min feed, double efficiency,
                            struct mm_per_min travel)
{
    struct deposit d = {{NAN}, {NAN}, {NAN}, {NAN}, NULL};

    d.outside = outside_range(w, feed.v, efficiency, travel.v);
    if (d.outside != NULL)
        return d;
    d.melted.v = w.mass.v / MM_PER_M * feed.v * 60 / 1000; /* g/m → g/mm; g/min → kg/h */
    d.deposited.v = d.melted.v * efficiency;
    d.bead_mass.v = w.mass.v * feed.v * efficiency / travel.v;
    d.bead_area.v = d.bead_mass.v / G_PER_M_OF_AREA;
    return d;
}

struct mm_per_min wire_feed_timed(struct mm run_out, struct seconds time)
{
    return (struct mm_per_min){run_out.v > 0 && time.v > 0 ? run_out.v / time.v * 60 : NAN};
}

struct mm wire_length_per_kg(struct wire w)
{
    return (struct mm){1000 / w.mass.v * MM_PER_M};
}

struct mm wire_run_out(struct mm_per_min feed, struct seconds arc)
{
    return (struct mm){feed.v > 0 && arc.v >= 0 ? feed.v / 60 * arc.v : NAN};
}
