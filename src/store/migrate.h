/*
 * Brings a book up to date: every step that is not in it yet, each in one transaction that also
 * sets user_version. A step that fails (errors as in store/db.h, with the number of the step)
 * leaves the book at the step before.
 */
#ifndef STORE_MIGRATE_H
#define STORE_MIGRATE_H

#include "base/error.h"
#include "store/book.h"
#include "store/schema.h"

int migrate(struct book *book, const struct schema *schema, struct error *e);

#endif
