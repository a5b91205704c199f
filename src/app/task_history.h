/*
 * What was done in the book, and going back and forth in it.
 *
 * Errors are those of store/journal.h and app/task_coupon.h.
 */
#ifndef APP_TASK_HISTORY_H
#define APP_TASK_HISTORY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/session.h"
#include "base/error.h"
#include "store/journal.h"

/* Changes of the book, or of one coupon, the earliest first. Release with history_free(). */
struct history {
    struct change_list changes;
    char *mark;     /* as asked; NULL: of the whole book */
    int64_t coupon; /* its number in the book, 0 without a mark */
    bool more;      /* there are earlier ones */
};

/* The last `most` changes, of the book or (as task_coupon() takes it) of the coupon with this mark,
 * which may also be one that undoing has taken out of the book. *out is empty after an error. */
int task_history(struct session *s, const char *mark, size_t most, struct history *out,
                 struct error *e);
void history_free(struct history *history);

/* Undoes or redoes a change, as journal_undo() and journal_redo(). *done, in words, is the caller's
 * to free: "change 12, log of coupon 07, is undone". */
int task_undo(struct session *s, int64_t number, char **done, struct error *e);
int task_redo(struct session *s, int64_t number, char **done, struct error *e);

#endif
