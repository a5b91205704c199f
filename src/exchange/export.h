/*
 * Coupons to a file. Only what is set on the coupons is written: results that follow from the bend
 * or the face are to be set as values by the caller first.
 */
#ifndef EXCHANGE_EXPORT_H
#define EXCHANGE_EXPORT_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "exchange/json.h"
#include "model/coupon.h"
#include "model/trial.h"
#include "model/variable.h"

/*
 * The wide table, one row a coupon: mark, when, who, every variable some coupon has a value for
 * (numbers in base units under `key (unit)`, at full precision), note. Reading it back with
 * import_table() gives the same marks, instants (to the second), values and notes, when
 * the results of the user's own are named to it. Coupons struck out are left out
 * unless asked for, and then carry the reason in a column `struck`.
 * Cells are handed out as they are; returned is a remark on those that begin like a formula, which
 * the caller frees, or NULL without any.
 */
char *export_csv(struct text *out, const struct coupon_list *coupons,
                 const struct variable_list *variables, bool with_struck);

/*
 * Everything there is: {"schema":1,"trial":{…},"variables":[…],"coupons":[…]}, numbers in base
 * units with the unit in the key. `trial` may be NULL. The caller owns the result.
 */
struct json *export_json(const struct trial *trial, const struct coupon_list *coupons,
                         const struct variable_list *variables, bool with_struck);

/* One coupon as such an object, put into an array. */
void export_coupon_json(struct json *array, const struct coupon *c,
                        const struct variable_list *variables);

#endif
