/* Coupons as text for other programs. */
#ifndef APP_TASK_EXPORT_H
#define APP_TASK_EXPORT_H

#include <stdbool.h>
#include <stddef.h>

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"
#include "model/trial.h"

enum export_format { EXPORT_CSV, EXPORT_JSON };

struct exported {
    char *text;
    char *remark; /* one line for stderr about the cells of a CSV, or NULL */
    size_t coupons;
};

/* The coupons of a trial, in CSV with what follows from passes, bend and face as values. The caller
 * frees text and remark. Fails only when the coupons cannot be loaded. */
int task_export(struct session *s, const struct trial *t, enum export_format format,
                bool with_struck, struct exported *out, struct error *e);

/* One coupon with everything noted about it: {"schema":1,"coupons":[{…}]}. The caller frees it. */
char *task_export_coupon(const struct session *s, const struct coupon *c);

#endif
