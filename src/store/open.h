/* Opening a book with another schema than the program's own. */
#ifndef STORE_OPEN_H
#define STORE_OPEN_H

#include "base/error.h"
#include "store/book.h"
#include "store/schema.h"

int book_open_schema(struct book **out, const char *path, enum book_mode mode,
                     const struct schema *schema, struct error *e); /* as book_open() */

#endif
