/*
 * The copies the program makes by itself: before the first change of a day, and before an older
 * book is brought up to date. COLDLAP_NO_BACKUP, when set, forbids them. Within the store.
 */
#ifndef STORE_AUTO_BACKUP_H
#define STORE_AUTO_BACKUP_H

#include <stdint.h>

#include "base/error.h"
#include "store/book.h"

/* Before a transaction begins. A copy that cannot be made does not stop the change: why is told by
 * book_remark(). */
void auto_before_change(struct book *book);

/*
 * Before the book, which can be written, goes from its schema to `to`. Other programs wait here
 * until *lock, which is -1 or a file, is closed. -1, with ERROR_SYSTEM, when the copy cannot be
 * made or the book's disk has no room for the change.
 */
int auto_before_migration(struct book *book, int64_t to, int *lock, struct error *e);

#endif
