/*
 * Arc energy and heat input.
 *
 *   arc energy  AE = U·I/v·10⁻³ kJ/mm, v in mm/s    EN 1011-1 [mem], ISO/TR 17671-1
 *   heat input  Q  = k·AE                           EN 1011-1 Table 1
 *   waveform-controlled machines: AE = IE/L or IP/v  ISO/TR 18491:2015 [mem]; ASME IX QW-409.1
 *
 * The codes of the United States (AWS D1.1, ASME IX QW-409.1) know no k: what they call heat input,
 * 0.06·U·I/(in/min) kJ/in, is the arc energy here. A figure is always called by one of the two
 * names. Each pass has its own; heat inputs of passes are never added up.
 *
 * [mem] from memory of the standard; [calc] worked out from the formula; [common] common practice.
 */
#ifndef WELD_HEAT_H
#define WELD_HEAT_H

#include <stddef.h>

#include "model/units.h"

struct heat {
    struct kj_per_mm arc_energy, heat_input; /* NAN when it cannot be said */
    const char *outside; /* NULL inside the range, else a sentence that says why not */
};

/* Range: every reading above 0, 0 < k ≤ 1. k NAN leaves the heat input NAN. */
struct heat heat_from_readings(struct volt u, struct ampere i, struct mm_per_s v, double k);
struct heat heat_from_energy(struct kilojoule energy, struct mm length, double k);
struct heat heat_from_power(struct kilowatt power, struct mm_per_s v, double k);

/* Bead length over arc-on time; NAN unless both are above 0. */
struct mm_per_s heat_travel_speed(struct mm length, struct seconds arc);

enum { HEAT_INERT_GAS = 131 }; /* aluminium's: steel takes active gas, 135 */

/* A process of ISO 4063. */
struct heat_process {
    int iso4063;
    double k;               /* EN 1011-1 Table 1; 138 with 135 */
    double wire_efficiency; /* usual share of the wire that becomes weld metal (wire.h); or NAN */
};
/* NULL when the table gives no k for it: then say the arc energy only. */
const struct heat_process *heat_process_find(int iso4063);
/* By a text that begins with the number or is a common abbreviation: "135 MAG solid wire", "GMAW",
 * "FCAW-S", "TIG". "MIG" is 135, as shops that weld steel say it. NULL when it is neither. */
const struct heat_process *heat_process_named(const char *text);

#endif
