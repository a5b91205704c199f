/* The lists of calc bend held against weld/bendlimits.h; sizes stay in the system they came in. */
#ifndef APP_CALC_BENDLIMITS_H
#define APP_CALC_BENDLIMITS_H

#include <stdbool.h>

#include "app/calc_work.h"
#include "weld/bendlimits.h"

struct bend_limit_lists {
    const char *flaws, *corners, *pores, *specimen; /* NULL: not given */
    bool folded_flat, fused_to_root;
    bool face_seen; /* fused_to_root was said, or it folded flat */
};

struct bend_limit_verdicts {
    bool guided, fillet; /* which were asked */
    bool inch;           /* system of the limits used */
    struct limit_answer guided_bend, fillet_break;
};

/* Sizes given in inch are judged by the inch limits, others by those in mm; a mixture is refused.
 */
int bend_limits_judge(const struct bend_limit_lists *lists, struct bend_limit_verdicts *out,
                      struct error *e);
void bend_limits_say(const struct bend_limit_verdicts *v, struct calc_answer *a);

#endif
