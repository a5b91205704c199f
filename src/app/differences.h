/*
 * What differs between two coupons: the variables whose values count as changed, as a value that
 * list, card, remark and question put into their own words.
 */
#ifndef APP_DIFFERENCES_H
#define APP_DIFFERENCES_H

#include <stdbool.h>
#include <stddef.h>

#include "model/coupon.h"
#include "model/variable.h"

/* Zeroed: nothing differs. */
struct differences {
    const struct variable **items; /* in the order of the table, which owns them */
    size_t count, capacity;
};

/* Causes only, a reading that merely wobbles left out; release with differences_free(). */
struct differences differences_between(const struct variable_list *variables,
                                       const struct coupon *c, const struct coupon *from);
void differences_free(struct differences *d);
bool differences_have(const struct differences *d, const struct variable *v);

/* "wire diameter, preheat and travel speed"; "nothing". Caller frees. */
char *differences_names(const struct differences *d);
/* "two things differ from 07: wire diameter and travel speed"; "nothing differs from 07". `mark` is
 * that of the other coupon, NULL for one without ("the last"). Caller frees. */
char *differences_sentence(const struct differences *d, const char *mark);
/* The names of what is new since the coupon before; "the first" when that is NULL. Caller frees. */
char *differences_since(const struct variable_list *variables, const struct coupon *c,
                        const struct coupon *before);

#endif
