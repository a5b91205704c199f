/*
 * The parts of a coupon that are more than one value, as they are written on the command line:
 * a pass, the bend, a flaw on the broken face. Keys and limits are those of model/part.h; what is
 * unusual is taken, and the question about it added to `questions`.
 */
#ifndef CLI_PARTS_H
#define CLI_PARTS_H

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"
#include "model/part.h"
#include "page/page.h"

/* Where an entry goes. */
struct entry_target {
    const struct session *s;
    struct coupon *coupon;
    struct page *questions; /* about what is unusual; it is taken as entered */
};

/* One row of a part, which is `base`. */
int part_entry(struct entry_target *t, const struct part_row *row, void *base, const char *text,
               struct error *e);

/* All of these: -1 with ERROR_INPUT for a value that cannot be, ERROR_USAGE for what is no
 * KEY=VALUE; the error names the part, and what was set before it stays set. */

/* "side=1 arc=35s length=100mm volts=18": a further pass, or with number=N that one. */
int part_pass(struct entry_target *t, const char *text, struct error *e);
/* "before=90 after=178 ended=held": what is said replaces what was there. */
int part_bend(struct entry_target *t, const char *text, struct error *e);
/* "0-12 4013 cold start", or "1/2..3/4in 401": a flaw; the face counts as read. */
int part_flaw(struct entry_target *t, const char *text, struct error *e);
/* Length of the broken face; it counts as read. */
int part_face(struct entry_target *t, const char *text, struct error *e);

#endif
