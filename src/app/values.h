/* What a coupon says about a variable: entered, or worked out from passes, bend and face. */
#ifndef APP_VALUES_H
#define APP_VALUES_H

#include <stddef.h>

#include "model/coupon.h"
#include "model/measure.h"
#include "model/variable.h"

/* An entered value stands; else what app/derived.h makes of the coupon; else missing. */
struct measure coupon_measure(const struct coupon *c, const char *key);
/* "at least 135°", "5.2 HV": in the units shown, the user's own unit included; "–" when missing. */
void measure_show(char *out, size_t size, struct measure m, const struct variable *v,
                  enum unit_system units);
/* A coupon's variable as shown on card and list: the entry, the category or the derived number
 * (then with "from passes" and the like left to the caller). "" when nothing is known. */
void coupon_show(char *out, size_t size, const struct coupon *c, const struct variable *v,
                 enum unit_system units);

#endif
