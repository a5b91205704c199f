/*
 * The variables that differ between two coupons. The list, the card, the remark and the question
 * each word this in their own way.
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

/* Causes only, without readings that differ by no more than their usual scatter. Release with
 * differences_free(). */
struct differences differences_between(const struct variable_list *variables,
                                       const struct coupon *c, const struct coupon *from);
void differences_free(struct differences *d);
bool differences_have(const struct differences *d, const struct variable *v);

/* "wire diameter, preheat and travel speed"; "nothing". Caller frees. */
char *differences_names(const struct differences *d);
/* "two things differ from 07: wire diameter and travel speed"; "nothing differs from 07". `mark` is
 * that of the other coupon; NULL: "the last". Caller frees. */
char *differences_sentence(const struct differences *d, const char *mark);
/* The names of what changed since the coupon `before`; "the first" when it is NULL. Caller frees.
 */
char *differences_since(const struct variable_list *variables, const struct coupon *c,
                        const struct coupon *before);

#endif
