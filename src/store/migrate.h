/*
 * Brings a book up to date: every step that is not in it yet, each in one transaction that also
 * sets user_version. A step that fails leaves the book at the step before.
 */
#ifndef STORE_MIGRATE_H
#define STORE_MIGRATE_H

#include <stddef.h>

#include "base/error.h"
#include "store/book.h"
#include "store/schema.h"

/* What a book has to become; the program's own is schema_steps, tests bring others. */
struct schema {
    const struct schema_step *steps;
    size_t count; /* the newest version, too */
};

/* Refuses (ERROR_INPUT) a book in whose schema there is more than the steps up to its version make
 * and SQLite keeps for itself, or less, naming the first such object. */
int schema_refuse_strangers(struct book *book, const struct schema *schema, struct error *e);

int migrate(struct book *book, const struct schema *schema, struct error *e);

/* book_open() with another schema. */
int book_open_schema(struct book **out, const char *path, enum book_mode mode,
                     const struct schema *schema, struct error *e);

#endif
