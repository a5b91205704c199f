/*
 * The open book and what stands at its path. SQLite goes on writing into a file that was moved or
 * removed, and would mix its own pages into one that was copied over: both are looked for before
 * anything is written.
 */
#ifndef STORE_PLACE_H
#define STORE_PLACE_H

#include "base/error.h"
#include "store/book.h"

/* The book was just opened, or has just committed. */
void place_settle(struct book *book);
/* Before a transaction begins and before it is committed. ERROR_SYSTEM when the book is not at its
 * path any more. */
int place_check(struct book *book, struct error *e);
/* Outside of a transaction: forgets what SQLite knows of the file if it was written since, as a
 * copy over it is not noticed otherwise. */
void place_look(struct book *book);

#endif
