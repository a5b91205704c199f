/*
 * Settings that belong to the book, not to the person: text by key. Known keys: "units" ("metric",
 * "inch"), "bench_letter" (one letter, or ""), "welder"; others may be used as needed.
 */
#ifndef STORE_SETTINGS_H
#define STORE_SETTINGS_H

#include "base/error.h"
#include "store/book.h"

/* *out is NULL when it is not set; the caller frees it. */
int setting_get(struct book *book, const char *key, char **out, struct error *e);
/* NULL as value unsets. The known keys are checked. */
int setting_set(struct book *book, const char *key, const char *value, struct error *e);

#endif
