/*
 * The kinds of calculation, and one run from the words of a command to an answer.
 */
#include "calc/calc.h"

#include <string.h>

#include "base/text.h"

static const struct calc_kind *const kinds[] = {
    &calc_heat,  &calc_cooling, &calc_carbon, &calc_preheat, &calc_fillet,
    &calc_hinge, &calc_bend,    &calc_wire,   &calc_duty,    &calc_stock,
};

const struct calc_kind *calc_kind_at(size_t i)
{
    return i < sizeof kinds / sizeof *kinds ? kinds[i] : NULL;
}

const struct calc_kind *calc_kind_find(const char *name)
{
    const struct calc_kind *k;

    for (size_t i = 0; (k = calc_kind_at(i)) != NULL; i++)
        if (text_same(k->name, name))
            return k;
    return NULL;
}

static int unknown_kind(const char *name, struct error *e)
{
    struct text names = {0};
    const struct calc_kind *k;

    for (size_t i = 0; (k = calc_kind_at(i)) != NULL; i++)
        text_addf(&names, "%s%s", i == 0 ? "" : ", ", k->name);
    error_set(e, ERROR_USAGE, "calc knows no '%s'; it knows %s", name == NULL ? "" : name,
              text_str(&names));
    text_free(&names);
    return -1;
}

int calc_run(const char *kind, size_t count, char *const arguments[], enum unit_system units,
             struct calc_answer *out, struct error *e)
{
    const struct calc_kind *k = kind == NULL ? NULL : calc_kind_find(kind);
    struct calc_inputs in;
    int rc = 0;

    memset(out, 0, sizeof *out);
    if (k == NULL)
        return unknown_kind(kind, e);
    calc_inputs_start(&in);
    for (size_t i = 0; i < count && rc == 0; i++)
        rc = calc_inputs_take(&in, k, arguments[i], e);
    if (rc == 0)
        rc = calc_inputs_check(&in, k, e);
    if (rc == 0) {
        calc_inputs_usual(&in, k);
        rc = k->prepare == NULL ? 0 : k->prepare(&in, e);
    }
    if (rc == 0)
        rc = calc_answer_make(k, &in, units, out, e);
    calc_inputs_free(&in);
    return rc;
}
