/*
 * The only source of "now". An instant is kept as UTC with the offset the clock on the wall had.
 *
 * COLDLAP_NOW (2026-03-07T14:05:00+01:00) sets the clock for tests and documented examples; it then
 * advances one second at every reading, so that entries keep their order.
 */
#ifndef BASE_CLOCK_H
#define BASE_CLOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct instant {
    int64_t utc_ms;     /* milliseconds since 1970-01-01T00:00:00Z */
    int offset_minutes; /* local time minus UTC, -1080 … 1080 */
};

struct instant clock_now(void);
struct instant clock_look(void); /* the same, but a clock set for tests stays where it is */
struct instant clock_or_now(struct instant when); /* `when`, or now if it is zero */
struct instant clock_local(int64_t utc_ms);       /* that moment by the clock on the wall here */
int64_t clock_monotonic_ms(void); /* for measuring pauses and arc time; never jumps */

/* Reads "2026-03-07T14:05:00+01:00". False, and `out` as it was, when `text` is not a whole date,
 * time and offset (or Z) that exists. */
bool clock_parse(const char *text, struct instant *out);
/* Reads the same form, or one that lacks its offset, its seconds or its time, with a blank for the
 * T if need be. What is missing is taken from `rest`, such as "T12:00:00+01:00". */
bool clock_parse_part(const char *text, const char *rest, struct instant *out);
void clock_format(char *out, size_t size, struct instant when);       /* the form parsed */
void clock_format_day(char *out, size_t size, struct instant when);   /* "2026-03-07", local */
void clock_format_short(char *out, size_t size, struct instant when); /* with " 14:05" */
/* True from 1950-01-01, before which nothing was logged, to a day from now, because two clocks may
 * differ by a zone. Otherwise false, and `why` says "cannot be: …". */
bool clock_credible(struct instant when, char *why, size_t size);

#endif
