#include "model/measure.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

static const char *const codes[] = {
    [MEASURE_EXACT] = "exact",
    [MEASURE_AT_LEAST] = "at_least",
    [MEASURE_AT_MOST] = "at_most",
    [MEASURE_BETWEEN] = "between",
};

enum { KINDS = sizeof codes / sizeof *codes };

struct measure measure_missing(void)
{
    return (struct measure){MEASURE_MISSING, NAN, NAN};
}

/* A value that is not a number is a missing one, and so is one without a finite end. */
static struct measure known(enum measure_kind kind, double low, double high)
{
    if (isnan(low) || isnan(high) || (isinf(low) && isinf(high)))
        return measure_missing();
    return (struct measure){kind, low, high};
}

struct measure measure_exact(double value)
{
    return known(MEASURE_EXACT, value, value);
}

struct measure measure_at_least(double limit)
{
    return known(MEASURE_AT_LEAST, limit, INFINITY);
}

struct measure measure_at_most(double limit)
{
    return known(MEASURE_AT_MOST, -INFINITY, limit);
}

struct measure measure_between(double low, double high)
{
    if (low > high)
        return measure_between(high, low);
    return known(low < high ? MEASURE_BETWEEN : MEASURE_EXACT, low, high);
}

bool measure_known(struct measure m)
{
    return m.kind != MEASURE_MISSING;
}

bool measure_held(struct measure m)
{
    return m.kind == MEASURE_AT_LEAST;
}

bool measure_same(struct measure a, struct measure b)
{
    if (a.kind != b.kind)
        return false;
    return a.kind == MEASURE_MISSING || (a.low == b.low && a.high == b.high);
}

double measure_point(struct measure m)
{
    switch (m.kind) {
    case MEASURE_EXACT:
    case MEASURE_AT_LEAST:
        return m.low;
    case MEASURE_AT_MOST:
        return m.high;
    case MEASURE_BETWEEN:
        return m.low + (m.high - m.low) / 2;
    case MEASURE_MISSING:
        break;
    }
    return NAN;
}

const char *measure_kind_code(enum measure_kind kind)
{
    return (size_t)kind < KINDS ? codes[kind] : NULL;
}

bool measure_kind_from_code(const char *code, enum measure_kind *out)
{
    for (size_t i = 0; i < KINDS; i++)
        if (code != NULL && codes[i] != NULL && strcmp(codes[i], code) == 0) {
            *out = (enum measure_kind)i;
            return true;
        }
    return false;
}
