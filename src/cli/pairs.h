/*
 * "arc=1m20s length=100 mm volts=18": a text of keys and values. A word without an equals sign
 * belongs to the value before it, so that "100 mm" needs no quoting of its own.
 */
#ifndef CLI_PAIRS_H
#define CLI_PAIRS_H

#include <stddef.h>

#include "base/error.h"

struct pair {
    char *key, *value;
};

struct pairs {
    struct pair *items;
    size_t count, capacity;
};

/* ERROR_USAGE when the text does not begin with KEY=; none at all is no error. `out` is empty after
 * an error; else the caller frees it with pairs_free(). */
int pairs_read(struct pairs *out, const char *text, struct error *e);
void pairs_free(struct pairs *p);

/* Splits one "key=value" argument at its first equals sign. ERROR_USAGE when there is none, or
 * nothing before it; else the caller frees `out` with pair_free(). */
int pair_split(const char *argument, struct pair *out, struct error *e);
void pair_free(struct pair *p);

#endif
