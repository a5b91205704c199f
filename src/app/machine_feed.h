/*
 * What the dial of a machine really feeds, as measured by the timed length and kept in the book.
 *
 * Readings of one dial position are averaged, and between positions the feed is interpolated with
 * its ± (weld/feedtable.h); a kept reading counts as a run of 6 s with ±0.2 s and ±0.5 mm [common].
 */
#ifndef APP_MACHINE_FEED_H
#define APP_MACHINE_FEED_H

#include "app/session.h"
#include "calc/calc.h"
#include "page/page.h"
#include "weld/feedtable.h"

/* Errors are those of store/calibrations.h, and what is said below. */

/* Keeps a reading: wire run out in `seconds` at a dial position; `note` may be NULL. ERROR_INPUT
 * when the dial is not finite, or wire or time are not above 0. */
int machine_feed_keep(struct session *s, const char *machine, double dial, double run_out_mm,
                      double seconds, const char *note, struct error *e);
/* The points of a machine, folded and in order of the dial; the caller frees *points. */
int machine_feed_points(struct session *s, const char *machine, struct feed_point **points,
                        size_t *count, struct error *e);
/* The points of every machine as tables; says so when there are none. */
int machine_feed_page(struct session *s, struct page *p, struct error *e);

/*
 * calc_run() with a book at hand: calc wire machine=NAME dial=3 takes the machine's readings for
 * its table. `s` may be NULL: no book.
 */
int calc_run_with_book(struct session *s, const char *kind, size_t count, char *const arguments[],
                       enum unit_system units, struct calc_answer *out, struct error *e);

#endif
