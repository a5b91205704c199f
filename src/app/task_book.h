/* The book as a whole: its check, and its copy. */
#ifndef APP_TASK_BOOK_H
#define APP_TASK_BOOK_H

#include "app/session.h"
#include "base/error.h"
#include "page/page.h"

/* Adds a BLOCK_ITEM for everything wrong in the book's file, its rows and values (book_check()),
 * and for every photograph that is gone or was changed. Returns how many, or -1 with ERROR_SYSTEM
 * or ERROR_INPUT when the book could not be looked over. */
int task_book_check(struct session *s, struct page *p, struct error *e);

/* A whole copy in a new file, as book_backup(). */
int task_book_backup(struct session *s, const char *to, struct error *e);

#endif
