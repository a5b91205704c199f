/*
 * What `log` and `change` were told about a coupon, put into it.
 */
#ifndef CLI_ENTRY_H
#define CLI_ENTRY_H

#include "base/error.h"
#include "cli/job.h"
#include "model/coupon.h"

/*
 * Applies the options and, from argv[first] on, the KEY=VALUE arguments to `c`. Unusual values are
 * taken, and the question they raise is added to the job's. `trial=` is left to the caller.
 * ERROR_INPUT for a value that cannot be, ERROR_USAGE for an argument that is none or given twice;
 * `c` may be half changed then.
 */
int entry_apply(struct job *job, int first, struct coupon *c, struct error *e);

/* The value of KEY=VALUE for this key among the arguments; NULL when absent. */
const char *entry_argument(const struct invocation *in, const char *key);

/* Prints the job's questions, and those of the whole coupon, on stderr, unless --yes was given.
 * `last` is the coupon before it; NULL: not compared. */
void entry_ask(struct job *job, const struct coupon *c, const struct coupon *last);

#endif
