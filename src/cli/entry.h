/*
 * What `log` and `change` were told about a coupon, put into it.
 */
#ifndef CLI_ENTRY_H
#define CLI_ENTRY_H

#include "app/session.h"
#include "base/error.h"
#include "cli/invocation.h"
#include "model/coupon.h"
#include "page/page.h"

/*
 * Applies the options and, from argv[first] on, the KEY=VALUE arguments to `c`. Unusual values are
 * taken, and the question they raise is added to `questions`. `trial=` is left to the caller.
 */
int entry_apply(const struct session *s, const struct invocation *in, int first, struct coupon *c,
                struct page *questions, struct error *e);

/* The value of KEY=VALUE for this key among the arguments, the last one; NULL when absent. */
const char *entry_argument(const struct invocation *in, int first, const char *key);

/* Questions go to stderr, each on its own lines. */
void entry_ask(const struct invocation *in, const struct page *questions);

#endif
