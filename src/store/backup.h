/* A whole copy of an open book in a file that gets its name when it is whole. Within the store. */
#ifndef STORE_BACKUP_H
#define STORE_BACKUP_H

#include <sys/types.h>

#include "base/error.h"
#include "store/book.h"

struct backup {
    const char *to; /* the name it gets; what it is until then lies beside */
    mode_t mode;    /* permissions it has at most; never more than the book */
    /* Gives the finished file its name: 0, or -1 with the error. NULL: where nothing has it yet. */
    int (*place)(const struct backup *b, const char *part, struct error *e);
    void *context; /* of place */
};

/* BEFORE2026-03-07_140500AFTER, of this second or, while there is a file of that name, a later one.
 * The caller frees it. */
char *backup_dated(const char *before, const char *after);

int backup_make(struct book *book, const struct backup *b, struct error *e);

#endif
