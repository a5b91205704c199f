#include "app/values.h"

#include <stdio.h>
#include <string.h>

#include "app/derived.h"
#include "model/quantity.h"

struct measure coupon_measure(const struct coupon *c, const char *key)
{
    const struct value *value = coupon_value(c, key);

    if (value != NULL && value->kind == VARIABLE_NUMBER)
        return value->measure;
    return derived_known(key) ? derived_value(c, key) : measure_missing();
}

void measure_show(char *out, size_t size, struct measure m, const struct variable *v,
                  enum unit_system units)
{
    size_t used;

    measure_format(out, size, m, v->dimension, units);
    used = strlen(out);
    if (v->unit != NULL && *v->unit != '\0' && m.kind != MEASURE_MISSING)
        snprintf(out + used, size - used, " %s", v->unit);
}

void coupon_show(char *out, size_t size, const struct coupon *c, const struct variable *v,
                 enum unit_system units)
{
    const struct value *value = coupon_value(c, v->key);
    struct measure m;

    if (value != NULL) {
        value_show(out, size, value, v, units);
        return;
    }
    m = coupon_measure(c, v->key);
    if (m.kind == MEASURE_MISSING)
        snprintf(out, size, "%s", "");
    else
        measure_show(out, size, m, v, units);
}
