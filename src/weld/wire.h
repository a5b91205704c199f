/*
 * From wire to weld metal.
 *
 *   mass of solid wire per length (π/4)·D²·ρ, ρ = 0.283 lb/in³; cored wire: as weighed, because the
 *   core is not steel and the efficiency is on the whole mass
 *   bead area  A = mass per length · feed · η/(ρ · travel speed)
 *              solid wire: (π/4)·D²·feed·η/travel
 *   deposition mass per length · feed · η. In pounds an hour for D in inches and feed in in/min:
 *              60·(π/4)·0.283·D²·feed·η = 13.34·D²·feed·η; tables that print 13.1 rounded it.
 *   wire feed  length run out / time (6 s: inches × 10 = in/min) [common]
 *   Source: geometry; filler-metal consumption tables of welding handbooks.
 *   Range: all above 0, 0 < η ≤ 1. Usual η by a filler-metal handbook: GMAW 0.93–0.98, short arc
 *   0.90–0.93, FCAW-G 0.86, FCAW-S 0.78, SMAW 0.59–0.66;
 *   metal-cored 0.95 by a wire maker's field test.
 */
#ifndef WELD_WIRE_H
#define WELD_WIRE_H

#include <stddef.h>

#include "model/units.h"

struct wire {
    struct mm diameter;  /* NAN when only the mass is known */
    struct g_per_m mass; /* per length of wire, core included */
};
struct wire wire_solid(struct mm diameter);
struct wire wire_cored(struct mm diameter, struct g_per_m mass);

struct deposit {
    struct mm2 bead_area;
    struct g_per_m bead_mass;
    struct kg_per_h melted, deposited; /* wire fed; weld metal */
    const char *outside; /* NULL inside the range; else why, and the figures it spoils are NAN */
};
/* Travel NAN: bead area and mass NAN, the rates stand. */
struct deposit wire_deposit(struct wire w, struct mm_per_min feed, double efficiency,
                            struct mm_per_min travel);

struct mm_per_min wire_feed_timed(struct mm run_out, struct seconds time);
struct mm wire_length_per_kg(struct wire w);
/* Wire run out in a pass. */
struct mm wire_run_out(struct mm_per_min feed, struct seconds arc);

#endif
