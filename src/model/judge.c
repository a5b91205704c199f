/* Checking a number against the limits of its row. */
#include "model/variable.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "model/intake.h"

/* "14 V to 32 V", "at most 60 mm", "" without limits. */
static void say_range(char *out, size_t size, const struct variable *v, struct range r,
                      enum unit_system system)
{
    char from[64], to[64];

    quantity_format(from, sizeof from, r.low, v->dimension, system);
    quantity_format(to, sizeof to, r.high, v->dimension, system);
    if (range_open(r))
        snprintf(out, size, "%s", "");
    else if (isinf(r.high))
        snprintf(out, size, "at least %s", from);
    else if (isinf(r.low))
        snprintf(out, size, "at most %s", to);
    else
        snprintf(out, size, "%s to %s", from, to);
}

bool range_open(struct range r)
{
    return (r.low == 0 && r.high == 0) || (isinf(r.low) && isinf(r.high));
}

bool range_holds(struct range r, double value)
{
    return range_open(r) || (value >= r.low && value <= r.high);
}

void variable_other_reading(const struct variable *v, double value, enum unit_system system,
                            char *out, size_t size)
{
    const struct unit *shown = unit_shown(v->dimension, system);
    const struct unit *other =
        unit_shown(v->dimension, system == UNITS_INCH ? UNITS_METRIC : UNITS_INCH);
    char number[40];
    double bare;

    out[0] = '\0';
    if (shown == NULL || range_holds(v->usual, value))
        return;
    bare = unit_from_base(shown, value);
    if (!range_holds(v->usual, unit_to_base(other, bare)))
        return;
    text_from_rounded(number, sizeof number, bare, 6);
    snprintf(out, size, "; if you mean %s, write %s %s", other->symbol, number, other->symbol);
}

enum value_verdict variable_judge(const struct variable *v, double value, enum unit_system system,
                                  char *why, size_t size)
{
    char shown[64], possible[140], usual[140];
    bool can_be = range_holds(v->can, value), narrower;

    why[0] = '\0';
    if (can_be && range_holds(v->usual, value))
        return VALUE_USUAL;
    quantity_format(shown, sizeof shown, value, v->dimension, system);
    say_range(possible, sizeof possible, v, v->can, system);
    say_range(usual, sizeof usual, v, v->usual, system);
    narrower = usual[0] != '\0' && strcmp(usual, possible) != 0;
    if (can_be)
        snprintf(why, size, "%s: %s is unusual, mostly it is %s", v->label, shown, usual);
    else
        snprintf(why, size, "%s: %s cannot be, it must be %s%s%s", v->label, shown, possible,
                 narrower ? ", mostly " : "", narrower ? usual : "");
    return can_be ? VALUE_UNUSUAL : VALUE_IMPOSSIBLE;
}

int intake_judge(struct intake *in, const struct variable *v, struct measure m, bool bare)
{
    char why[384], high_why[384], meant[96] = "";
    enum value_verdict verdict = VALUE_USUAL, high = VALUE_USUAL;

    in->question[0] = '\0';
    if (isfinite(m.low))
        verdict = variable_judge(v, m.low, in->units, why, sizeof why);
    if (isfinite(m.high) && m.high != m.low)
        high = variable_judge(v, m.high, in->units, high_why, sizeof high_why);
    if (bare)
        variable_other_reading(v, m.low, in->units, meant, sizeof meant);
    if (high == VALUE_USUAL && verdict == VALUE_USUAL)
        return 0;
    snprintf(in->question, sizeof in->question, "%s%s", high > verdict ? high_why : why, meant);
    return high == VALUE_IMPOSSIBLE || verdict == VALUE_IMPOSSIBLE
               ? error_set(in->error, ERROR_INPUT, "%s", in->question)
               : 0;
}

bool intake_asks(const struct intake *in)
{
    return !in->sure && in->question[0] != '\0';
}
