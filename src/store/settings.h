/*
 * Settings that belong to the book, not to the person: text by key. Known keys: "units" ("metric",
 * "inch"), "bench_letter" (one letter, or ""), "welder"; others may be used as needed.
 */
#ifndef STORE_SETTINGS_H
#define STORE_SETTINGS_H

#include "base/error.h"
#include "store/book.h"

/* Errors are those of store/db.h, and ERROR_SYSTEM where the book can only be read. */

/* *out is NULL when it is not set, and after an error; the caller frees it. */
int setting_get(struct book *book, const char *key, char **out, struct error *e);
/* NULL as value unsets. ERROR_INPUT when a known key cannot have this value. */
int setting_set(struct book *book, const char *key, const char *value, struct error *e);

#endif
