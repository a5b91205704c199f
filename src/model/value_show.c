/* Showing a value: what was entered, and what that is in the units of the book. */
#include "model/coupon.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"

/* The entry still says the same as the number, and *plain whether it does so in the book's unit. */
static bool entry_holds(const struct value *value, const struct variable *v,
                        enum unit_system system, bool *plain)
{
    struct quantity q;
    struct error e;
    double point = measure_point(value->measure);
    const struct unit *own = variable_own_unit(v);

    if (value->text == NULL || value->measure.kind != MEASURE_EXACT)
        return false;
    if (own != NULL && quantity_parse(value->text, own->dimension, system, &q, &e) == 0 &&
        !q.bare) {
        *plain = q.unit == own;
        return fabs(unit_from_base(own, q.value) - point) <= 1e-9 * fabs(point);
    }
    if (quantity_parse(value->text, v->dimension, system, &q, &e) != 0 ||
        fabs(q.value - point) > 1e-9 * fabs(point))
        return false;
    *plain = q.unit == unit_shown(v->dimension, system) && strpbrk(value->text, "(:") == NULL;
    return true;
}

static void show_number(char *out, size_t size, const struct value *value, const struct variable *v,
                        enum unit_system system)
{
    char plain_form[96], shown[160];
    const char *gap = v->unit == NULL ? "" : " ", *unit = v->unit == NULL ? "" : v->unit;
    size_t length;
    bool plain;

    measure_format(plain_form, sizeof plain_form, value->measure, v->dimension, system);
    if (!entry_holds(value, v, system, &plain)) {
        snprintf(out, size, "%s%s%s", plain_form, gap, unit);
        return;
    }
    if (plain) {
        snprintf(out, size, "%s%s%s", value->text, gap, unit);
        return;
    }
    if (*unit != '\0')
        snprintf(plain_form + strlen(plain_form), sizeof plain_form - strlen(plain_form), " %s",
                 unit);
    length = strlen(value->text);
    if (length > 0 && value->text[length - 1] == ')') /* "11 ga (manufacturers' standard)" */
        snprintf(shown, sizeof shown, "%.*s, %s)", (int)length - 1, value->text, plain_form);
    else
        snprintf(shown, sizeof shown, "%s (%s)", value->text, plain_form);
    snprintf(out, size, "%s", shown);
}

/* The choice a stored number stands for: 135 is "135 MAG solid wire". */
static void show_category(char *out, size_t size, const char *text, const struct variable *v)
{
    struct usual_choice choice = variable_choice(v, text);

    if (choice.code > 0)
        snprintf(out, size, "%.*s", (int)choice.length, choice.text);
    else
        snprintf(out, size, "%s", text);
}

void value_show(char *out, size_t size, const struct value *value, const struct variable *v,
                enum unit_system system)
{
    if (value == NULL)
        snprintf(out, size, "%s", "");
    else if (value->kind == VARIABLE_CATEGORY)
        show_category(out, size, value->text, v);
    else
        show_number(out, size, value, v, system);
}
