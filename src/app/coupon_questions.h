/* Questions a welder would ask of a coupon before it is stored. */
#ifndef APP_COUPON_QUESTIONS_H
#define APP_COUPON_QUESTIONS_H

#include "app/session.h"
#include "model/coupon.h"
#include "page/page.h"

/* Adds a BLOCK_ITEM for each: an unusual value, a wire for a single pass used for several, more
 * than one change since the `last` coupon. NULL: there is none. */
void coupon_questions(const struct session *s, const struct coupon *c, const struct coupon *last,
                      struct page *p);

#endif
