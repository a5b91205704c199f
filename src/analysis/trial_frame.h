/*
 * A trial as a frame for the statistics: which variables become columns, and what each coupon puts
 * into them.
 */
#ifndef ANALYSIS_TRIAL_FRAME_H
#define ANALYSIS_TRIAL_FRAME_H

#include <stdbool.h>

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"
#include "stats/data/frame.h"

/* Variables are named by key or label. */
struct frame_request {
    const struct variable *result;
    const char *const *with; /* derived variables that take the place of what they come from */
    size_t with_count;
    const char *const *without;
    size_t without_count;
};

/*
 * One row a coupon, one column a cause that any coupon says something about, in the order of the
 * variable table. Names in the request that are no variable are refused (ERROR_USAGE).
 */
int trial_frame(const struct session *s, const struct coupon_list *coupons,
                const struct frame_request *r, struct frame *out, struct error *e);
/* Shows the frame's numbers, which stay as they are, in the units of the session. */
void trial_frame_units(const struct session *s, struct frame *f);

#endif
