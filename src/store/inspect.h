/*
 * Looks at what stands at a path before SQLite is let near it, so that a file which is no book, or
 * a newer one, stays byte for byte as it was.
 */
#ifndef STORE_INSPECT_H
#define STORE_INSPECT_H

#include <stdbool.h>

#include "base/error.h"
#include "store/book.h"
#include "store/schema.h"

/* A file that can be opened, or (BOOK_CREATE) a place where one can be made; makes the parent
 * directories then. */
int inspect_place(const char *path, enum book_mode mode, struct error *e);

/* The first page, of a book just opened with nothing read yet. *fresh: it is empty. */
int inspect_header(struct book *book, enum book_mode mode, size_t newest, bool *fresh,
                   struct error *e);

/* The same questions put to SQLite, which also knows what a crash has left beside the file, and
 * what is in the schema. */
int inspect_book(struct book *book, enum book_mode mode, const struct schema *schema, bool *fresh,
                 struct error *e);

/* The file beside the open book that holds changes which are not in it yet; NULL when none does.
 * The connection owns the name. */
const char *inspect_wal(struct book *book);

/* What forbids writing the book: its file, or its folder, where SQLite has to put a journal beside
 * it; NULL: nothing does. */
const char *inspect_read_only(const char *path);

#endif
