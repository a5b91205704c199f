/*
 * Manufacturers' standard gauge of steel sheet. A gauge number is a weight in ounces a square foot;
 * the thickness is that weight over 16 and over 41.82 lb/ft² an inch. Other gauges (statutory,
 * galvanised, stainless, aluminium, wire) differ, so whatever shows a gauge names the table.
 */
#ifndef MODEL_GAUGE_H
#define MODEL_GAUGE_H

#define GAUGE_TABLE "manufacturers' standard"

enum { GAUGE_FIRST = 3, GAUGE_LAST = 38 };

/* Thickness in mm; NAN outside GAUGE_FIRST … GAUGE_LAST. */
double gauge_mm(int gauge);

#endif
