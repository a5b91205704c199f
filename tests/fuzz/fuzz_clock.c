/*
 * Any bytes as an instant, whole or with its end missing. What is taken is written in the form that
 * reads back as the same instant; a whole instant is taken the same with anything to complete it.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "fuzz.h"

static bool same(struct instant a, struct instant b)
{
    return a.utc_ms == b.utc_ms && a.offset_minutes == b.offset_minutes;
}

static void check_taken(struct instant when)
{
    char whole[80], other[80], why[128];
    struct instant again;

    must(abs(when.offset_minutes) < 19 * 60);
    clock_format(whole, sizeof whole, when);
    clock_format_short(other, sizeof other, when);
    must(strlen(other) >= strlen("2026-03-07 14:05"));
    must(clock_credible(when, why, sizeof why) || (text_valid(why) && why[0] != '\0'));
    if (strlen(whole) > strlen("2026-03-07T14:05:00+01:00"))
        return; /* by its zone before the year 0 or after 9999, which the form does not have */
    must(clock_parse(whole, &again) && same(when, again));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = mem_copy_part((const char *)data, size);
    struct instant whole, part;

    if (clock_parse(text, &whole)) {
        check_taken(whole);
        must(clock_parse_part(text, "T12:00:00+01:00", &part) && same(whole, part));
    }
    if (clock_parse_part(text, "T00:00:00Z", &part))
        check_taken(part);
    free(text);
    return 0;
}
