/*
 * The parts of a coupon that are more than one value, as they are written on the command line:
 * a pass, the bend, a flaw on the broken face. Keys and limits are those of model/part.h; what is
 * unusual is taken, and the question about it added to `questions`.
 */
#ifndef CLI_PARTS_H
#define CLI_PARTS_H

#include "app/page.h"
#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"

/* "side=1 arc=35s length=100mm volts=18": a further pass, or with number=N that one. */
int part_pass(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e);
/* "before=90 after=178 ended=held": what is said replaces what was there. */
int part_bend(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e);
/* "0-12 4013 cold start", or "1/2..3/4in 401": a flaw; the face counts as read. */
int part_flaw(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e);
/* Length of the broken face; it counts as read. */
int part_face(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e);

#endif
