/*
 * The numbers the book has for the keys of variables, and the units their numbers stand in. They
 * never change, so the list is read once, and again only when a number or a key is not in it.
 */
#ifndef STORE_VARIABLE_IDS_H
#define STORE_VARIABLE_IDS_H

#include <stdint.h>

#include "base/error.h"
#include "store/book.h"

struct variable_id {
    int64_t id;
    char *key, *unit; /* no unit: NULL */
};

/* Inside a transaction: a key that has no number yet gets one. The book owns what is returned; it
 * is there until a rollback, or a key without a number. NULL after an error. */
const struct variable_id *variable_id(struct book *book, const char *key, struct error *e);
/* NULL with ERROR_INPUT when there is none: the book is damaged. */
const struct variable_id *variable_with_id(struct book *book, int64_t id, struct error *e);
void variable_ids_forget(struct book *book); /* what was numbered last may not have been stored */

#endif
