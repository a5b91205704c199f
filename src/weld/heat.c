/*
 * Arc energy and heat input. The process table is EN 1011-1:2009 Table 1; one row a process.
 */
#include "weld/heat.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/text.h"

static const struct heat_process processes[] = {
    {111, 0.8, 0.63}, /* manual metal arc */
    {114, 0.8, 0.78}, /* self-shielded cored wire */
    {121, 1.0, NAN},  /* submerged arc, wire */
    {HEAT_INERT_GAS, 0.8, NAN},
    {135, 0.8, 0.95}, /* MAG, solid wire */
    {136, 0.8, 0.86}, /* MAG, flux-cored wire */
    {138, 0.8, 0.95}, /* MAG, metal-cored wire */
    {141, 0.6, NAN},  /* TIG */
    {15, 0.6, NAN},   /* plasma arc */
};

static struct heat heat_of(double arc_energy, bool readings_good, double k)
{
    if (!readings_good)
        return (struct heat){{NAN}, {NAN}, "every reading must be above 0"};
    if (k <= 0 || k > 1)
        return (struct heat){
            {arc_energy}, {NAN}, "the thermal efficiency k must be above 0 and at most 1"};
    return (struct heat){{arc_energy}, {k * arc_energy}, NULL};
}

struct heat heat_from_readings(struct volt u, struct ampere i, struct mm_per_s v, double k)
{
    return heat_of(u.v * i.v / v.v / 1000, u.v > 0 && i.v > 0 && v.v > 0, k);
}

struct heat heat_from_energy(struct kilojoule energy, struct mm length, double k)
{
    return heat_of(energy.v / length.v, energy.v > 0 && length.v > 0, k);
}

struct heat heat_from_power(struct kilowatt power, struct mm_per_s v, double k)
{
    return heat_of(power.v / v.v, power.v > 0 && v.v > 0, k);
}

struct mm_per_s heat_travel_speed(struct mm length, struct seconds arc)
{
    return (struct mm_per_s){length.v > 0 && arc.v > 0 ? length.v / arc.v : NAN};
}

const struct heat_process *heat_process_find(int iso4063)
{
    for (size_t i = 0; i < sizeof processes / sizeof *processes; i++)
        if (processes[i].iso4063 == iso4063)
            return &processes[i];
    return NULL;
}

const struct heat_process *heat_process_named(const char *text)
{
    static const struct {
        const char *name;
        int iso4063;
    } names[] = {
        {"SMAW", 111}, {"MMA", 111},  {"stick", 111}, {"FCAW-S", 114}, {"SAW", 121},
        {"MIG", 135},  {"MAG", 135},  {"GMAW", 135},  {"FCAW-G", 136}, {"MCAW", 138},
        {"TIG", 141},  {"GTAW", 141}, {"plasma", 15}, {"PAW", 15},
    };

    if (text == NULL)
        return NULL;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (text_same(names[i].name, text))
            return heat_process_find(names[i].iso4063);
    return heat_process_find((int)strtol(text, NULL, 10));
}
