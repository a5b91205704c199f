/* What a change did to a coupon, as words: from, and to. */
#ifndef APP_COUPON_CHANGES_H
#define APP_COUPON_CHANGES_H

#include <stddef.h>

#include "model/coupon.h"
#include "model/trial.h"
#include "model/units.h"
#include "model/variable.h"

/* "Preheat", "20 °C", "120 °C". What was or is not said is "". */
struct coupon_change {
    char *what, *from, *to;
};
struct coupon_changes {
    struct coupon_change *items;
    size_t count, capacity;
};

/* Every variable, part and word that is shown differently of the two; `trials` has the names of
 * their trials. Release with coupon_changes_free(). */
struct coupon_changes coupon_changes_between(const struct variable_list *variables,
                                             const struct trial_list *trials,
                                             const struct coupon *before,
                                             const struct coupon *after, enum unit_system units);
void coupon_changes_free(struct coupon_changes *changes);

#endif
