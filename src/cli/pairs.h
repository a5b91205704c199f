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

int pairs_read(struct pairs *out, const char *text, struct error *e);
void pairs_free(struct pairs *p);

/* Splits one "key=value" argument; the caller frees both. `what` names it in the error. */
int pair_split(const char *argument, struct pair *out, struct error *e);
void pair_free(struct pair *p);

#endif
