/*
 * A save is wrapped in enter and leave: all of it is stored or nothing. Outside of book_begin() it
 * is a transaction of its own, inside a part that can be undone alone. `rc` is what the save came
 * to; leave returns it, or -1 when it cannot be stored.
 */
#ifndef STORE_TRANSACTION_H
#define STORE_TRANSACTION_H

#include "base/error.h"
#include "store/book.h"

/* 0, or -1 with ERROR_SYSTEM: the book is read-only, another program is writing, or an earlier
 * failure has undone the transaction. Nothing is to be left then. */
int transaction_enter(struct book *book, struct error *e);
int transaction_leave(struct book *book, int rc, struct error *e);
/* How many are open one in the other; 0: none. */
int transaction_level(const struct book *book);
/* The same for reading several tables in one state. */
int transaction_enter_reading(struct book *book, struct error *e);
int transaction_leave_reading(struct book *book, int rc, struct error *e);

#endif
