#include "model/quantity.h"

#include <math.h>
#include <stdio.h>

#include "base/text.h"

/* As many decimals as the unit shows, and at least two digits that say something. */
static int decimals_for(double value, int decimals)
{
    while (value != 0 && decimals < 12 && fabs(value) < pow(10, 1 - decimals))
        decimals++;
    return decimals;
}

static void format_number(char *out, size_t size, double value, int decimals)
{
    if (fabs(value) >= 1e9 || (value != 0 && fabs(value) < 1e-9))
        snprintf(out, size, "%.4g", value);
    else
        text_from_rounded(out, size, value, decimals_for(value, decimals));
}

static int decimals_of(const struct unit *unit, enum dimension dimension)
{
    return unit != NULL ? unit->decimals : dimension == DIM_COUNT ? 0 : 4;
}

void quantity_format(char *out, size_t size, double value, enum dimension dimension,
                     enum unit_system system)
{
    const struct unit *unit = unit_shown(dimension, system);
    char number[40];

    if (!isfinite(value)) {
        snprintf(out, size, "–");
        return;
    }
    format_number(number, sizeof number, unit == NULL ? value : unit_from_base(unit, value),
                  decimals_of(unit, dimension));
    if (unit == NULL)
        snprintf(out, size, "%s", number);
    else
        snprintf(out, size, "%s%s%s", number, dimension == DIM_ANGLE ? "" : " ", unit->symbol);
}

void measure_format(char *out, size_t size, struct measure m, enum dimension dimension,
                    enum unit_system system)
{
    char low[64], high[64];

    quantity_format(low, sizeof low, m.low, dimension, system);
    quantity_format(high, sizeof high, m.high, dimension, system);
    switch (m.kind) {
    case MEASURE_MISSING:
        snprintf(out, size, "–");
        break;
    case MEASURE_EXACT:
        snprintf(out, size, "%s", low);
        break;
    case MEASURE_AT_LEAST:
        snprintf(out, size, "at least %s", low);
        break;
    case MEASURE_AT_MOST:
        snprintf(out, size, "at most %s", high);
        break;
    case MEASURE_BETWEEN:
        snprintf(out, size, "%s to %s", low, high);
        break;
    }
}

void measure_format_plain(char *out, size_t size, struct measure m)
{
    char low[40], high[40];

    text_from_number(low, sizeof low, m.low);
    text_from_number(high, sizeof high, m.high);
    switch (m.kind) {
    case MEASURE_MISSING:
        snprintf(out, size, "%s", "");
        break;
    case MEASURE_EXACT:
        snprintf(out, size, "%s", low);
        break;
    case MEASURE_AT_LEAST:
        snprintf(out, size, "%s+", low);
        break;
    case MEASURE_AT_MOST:
        snprintf(out, size, "<=%s", high);
        break;
    case MEASURE_BETWEEN:
        snprintf(out, size, "%s..%s", low, high);
        break;
    }
}
