#include "model/gauge.h"

#include <math.h>

/* Ounces a square foot, from number 3 on. */
static const double ounces[] = {
    160, 150, 140, 130, 120, 110, 100, 90, 80, 70, 60, 50,  45, 40,  36, 32,  28,   24,
    22,  20,  18,  16,  14,  12,  11,  10, 9,  8,  7,  6.5, 6,  5.5, 5,  4.5, 4.25, 4,
};

double gauge_mm(int gauge)
{
    if (gauge < GAUGE_FIRST || gauge > GAUGE_LAST)
        return NAN;
    return ounces[gauge - GAUGE_FIRST] / 16 / 41.82 * 25.4;
}
