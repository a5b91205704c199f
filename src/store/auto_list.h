/*
 * The automatic backups of a book: one folder a book in the state directory, one file a backup,
 * named by date, time and reason: 2026-03-07_140500_before-first-change.coldlap. Within the store;
 * for others book_backups() of store/book.h.
 */
#ifndef STORE_AUTO_LIST_H
#define STORE_AUTO_LIST_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/clock.h"
#include "base/error.h"

enum { AUTO_DATE = 17 }; /* characters of "2026-03-07_140500" */

struct auto_copy {
    char *name;  /* of the file */
    int64_t day; /* it was made on, on the clock on the wall, since 1970-01-01 */
    bool drop;   /* the rule does not keep it */
};
struct auto_list {
    struct auto_copy *items; /* the earliest first */
    size_t count, capacity;
};

/* The folder of the book at `path`, named after it and a digest of its real path; it may not be
 * there yet. The caller frees it. NULL with ERROR_SYSTEM. */
char *auto_folder(const char *path, struct error *e);

int64_t auto_day(struct instant when);
/* Of what is no automatic backup nothing is added. */
void auto_list_add(struct auto_list *list, const char *name);
void auto_list_read(struct auto_list *list, const char *folder); /* *list zeroed before */
/* Says which the rule drops on that day; the list must be in order, as auto_list_read() leaves it.
 */
void auto_list_judge(struct auto_list *list, int64_t today);
void auto_list_free(struct auto_list *list);

#endif
