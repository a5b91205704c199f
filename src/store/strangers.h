/* Whether a book's schema is the one its version has. */
#ifndef STORE_STRANGERS_H
#define STORE_STRANGERS_H

#include "base/error.h"
#include "store/book.h"
#include "store/schema.h"

/* Refuses (ERROR_INPUT) a book in whose schema there is more than the steps up to its version make
 * and SQLite keeps for itself, or less, naming the first such object. */
int strangers_refuse(struct book *book, const struct schema *schema, struct error *e);

#endif
