/*
 * The numbers the book has for the keys of variables. They never change, so the list is read once,
 * and again only when a number or a key is not in it.
 */
#ifndef STORE_VARIABLE_IDS_H
#define STORE_VARIABLE_IDS_H

#include <stdint.h>

#include "base/error.h"
#include "store/book.h"

/* Inside a transaction: a key that has no number yet gets one. */
int variable_id(struct book *book, const char *key, int64_t *out, struct error *e);
/* NULL with ERROR_INPUT when there is none: the book is damaged. The book owns the key. */
const char *variable_key_of(struct book *book, int64_t id, struct error *e);
void variable_ids_forget(struct book *book); /* what was numbered last may not have been stored */

#endif
