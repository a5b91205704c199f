#include "model/refuse.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

static const struct {
    const char *noun, *example;
} words[DIMENSIONS] = {
    [DIM_NUMBER] = {"a bare number", "12.5"},
    [DIM_COUNT] = {"a whole number", "2"},
    [DIM_LENGTH] = {"a length", "3 mm, 5/16 in or 11 ga"},
    [DIM_AREA] = {"an area", "24 mm2 or 0.04 in2"},
    [DIM_SPEED] = {"a speed", "300 mm/min or 12 ipm"},
    [DIM_TIME] = {"a time", "45 s, 1m20s or 1:20"},
    [DIM_TEMPERATURE] = {"a temperature", "150 °C or 300F"},
    [DIM_ANGLE] = {"an angle", "90 or 90°"},
    [DIM_SHARE] = {"a share", "85 or 85 %"},
    [DIM_VOLTAGE] = {"a voltage", "17.5 V"},
    [DIM_CURRENT] = {"a current", "130 A"},
    [DIM_GAS_FLOW] = {"a gas flow", "14 l/min or 30 cfh"},
    [DIM_LINE_ENERGY] = {"an energy along the bead", "0.8 kJ/mm or 20 kJ/in"},
    [DIM_ENERGY] = {"an energy", "40 kJ"},
    [DIM_POWER] = {"a power", "3 kW"},
    [DIM_FORCE] = {"a force", "800 N, 80 kgf or 180 lbf"},
    [DIM_MOMENT] = {"a moment", "120 N m or 90 ft-lb"},
    [DIM_STRESS] = {"a stress", "250 MPa or 36 ksi"},
    [DIM_MASS] = {"a mass", "0.5 kg or 1.1 lb"},
    [DIM_LINE_MASS] = {"a mass along a length", "7.6 g/m or 0.4 lb/ft"},
    [DIM_MASS_RATE] = {"a deposition rate", "2 kg/h or 4.4 lb/h"},
    [DIM_HYDROGEN] = {"a hydrogen content", "5 ml/100g"},
};

const char *quote_text(char out[QUOTE_SIZE], const char *text)
{
    int cells = 40;
    size_t bytes = text_fit(text, cells);

    while (bytes >= QUOTE_SIZE - sizeof "…") /* marks above letters take no cell */
        bytes = text_fit(text, --cells);
    if (!text_valid(text))
        snprintf(out, QUOTE_SIZE, "(not readable)");
    else
        snprintf(out, QUOTE_SIZE, "%.*s%s", (int)bytes, text, text[bytes] != '\0' ? "…" : "");
    for (char *c = out; *c != '\0'; c++)
        *c = *c == '\n' || *c == '\t' ? ' ' : *c;
    return out;
}

char *list_choices(const char *choices)
{
    struct text list = {0};

    for (const char *c = choices; *c != '\0'; c++)
        text_add_part(&list, *c == '|' ? ", " : c, *c == '|' ? 2 : 1);
    return text_steal(&list);
}

int refuse_form(struct error *e, const char *text, enum dimension dimension)
{
    char shown[QUOTE_SIZE];

    if (text[strspn(text, " \t\n")] == '\0')
        return error_set(e, ERROR_INPUT, "nothing is written; %s is wanted, such as %s",
                         words[dimension].noun, words[dimension].example);
    return error_set(e, ERROR_INPUT, "'%s' is not %s; write it like %s", quote_text(shown, text),
                     words[dimension].noun, words[dimension].example);
}

/* "mm, cm, m or in"; "" for a dimension without units. Caller frees. */
static char *list_units(enum dimension dimension)
{
    const struct unit *u, *next = NULL;
    struct text list = {0};

    for (size_t i = 0; (u = unit_at(i)) != NULL; i++) {
        if (u->dimension != dimension)
            continue;
        if (next != NULL)
            text_addf(&list, "%s%s", list.length > 0 ? ", " : "", next->symbol);
        next = u;
    }
    if (next != NULL)
        text_addf(&list, "%s%s", list.length > 0 ? " or " : "", next->symbol);
    return text_steal(&list);
}

int refuse_unit(struct error *e, const char *text, const char *unit, size_t length,
                enum dimension dimension)
{
    const struct unit *other = unit_find(unit, length, DIMENSIONS);
    char shown[QUOTE_SIZE], *units = list_units(dimension);

    quote_text(shown, text);
    if (units[0] == '\0')
        error_set(e, ERROR_INPUT, "'%s' should be %s, without a unit", shown,
                  words[dimension].noun);
    else if (other != NULL)
        error_set(e, ERROR_INPUT, "'%s' is %s; %s is wanted, in %s", shown,
                  words[other->dimension].noun, words[dimension].noun, units);
    else
        error_set(e, ERROR_INPUT, "'%s' has a unit that is not known for %s; use %s", shown,
                  words[dimension].noun, units);
    free(units);
    return -1;
}
