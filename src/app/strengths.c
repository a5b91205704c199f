#include "app/strengths.h"

#include <math.h>
#include <stddef.h>

#include "base/text.h"

struct strength {
    const char *start; /* of the name */
    double mpa;
};

static const struct strength yields[] = {
    {"S235", 235}, {"S275", 275}, {"S355", 355}, {"A36", 250}, {NULL, NAN}};

/* 70 ksi is 483 MPa; the metric form of the same classes says 490 or 480: the least of them. */
static const struct strength welds[] = {{"ER70", 480}, {"E71", 480},  {"E70", 480},
                                        {"E60", 430},  {"G 42", 500}, {NULL, NAN}};

static double find(const struct strength *rows, const char *name)
{
    size_t i;

    for (i = 0; name != NULL && rows[i].start != NULL; i++)
        if (text_starts(name, rows[i].start))
            return rows[i].mpa;
    return NAN;
}

double strength_yield_of(const char *base_metal)
{
    return find(yields, base_metal);
}

double strength_weld_of(const char *wire_class)
{
    return find(welds, wire_class);
}
