#include "model/quantity.h"

#include <math.h>
#include <stdio.h>

#include "base/text.h"

/* As many decimals as the unit shows, and at least two digits that say something. Those
 * of 1e-9, below which nothing is rounded here, are ten. */
static int decimals_for(double value, int decimals)
{
    while (value != 0 && fabs(value) < pow(10, 1 - decimals))
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

/* What is written around the limits of a kind: for people, and in files. */
static const struct {
    const char *before, *between, *plain_before, *plain_between;
} around[] = {
    [MEASURE_MISSING] = {"", "", "", ""},
    [MEASURE_EXACT] = {"", "", "", ""},
    [MEASURE_AT_LEAST] = {"at least ", "", "", "+"},
    [MEASURE_AT_MOST] = {"at most ", "", "<=", ""},
    [MEASURE_BETWEEN] = {"", " to ", "", ".."},
};

void measure_format(char *out, size_t size, struct measure m, enum dimension dimension,
                    enum unit_system system)
{
    char first[64], second[64] = "";

    quantity_format(first, sizeof first, m.kind == MEASURE_AT_MOST ? m.high : m.low, dimension,
                    system);
    if (m.kind == MEASURE_BETWEEN)
        quantity_format(second, sizeof second, m.high, dimension, system);
    snprintf(out, size, "%s%s%s%s", around[m.kind].before, first, around[m.kind].between, second);
}

void measure_format_plain(char *out, size_t size, struct measure m)
{
    char first[40] = "", second[40] = "";

    if (measure_known(m))
        text_from_number(first, sizeof first, m.kind == MEASURE_AT_MOST ? m.high : m.low);
    if (m.kind == MEASURE_BETWEEN)
        text_from_number(second, sizeof second, m.high);
    snprintf(out, size, "%s%s%s%s", around[m.kind].plain_before, first,
             around[m.kind].plain_between, second);
}
