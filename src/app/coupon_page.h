/* One coupon as a page: how it was set up, welded, folded and read, and its figures. */
#ifndef APP_COUPON_PAGE_H
#define APP_COUPON_PAGE_H

#include <stddef.h>

#include "app/session.h"
#include "model/coupon.h"
#include "page/page.h"

void coupon_page(const struct session *s, const struct coupon *c, struct page *p);

/* The result as words: "at least 135°", "broke at 48°", "not bent yet"; "–" without another. */
void coupon_result(const struct session *s, const struct coupon *c, const struct variable *result,
                   char *out, size_t size);

#endif
