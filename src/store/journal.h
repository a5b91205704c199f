/*
 * The journal: what the user did, one change an action, with the state of each thing before it.
 *
 * All that is stored in one transaction is one change. A thing is a row of one of the tables below
 * with the rows that belong to it; its state is a JSON object of all their columns. Undoing a
 * change puts back the states it had kept and keeps those it had made; redoing is the same again.
 *
 * Errors are those of store/db.h, and what is said below.
 */
#ifndef STORE_JOURNAL_H
#define STORE_JOURNAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/clock.h"
#include "base/error.h"
#include "model/coupon.h"
#include "store/book.h"

enum thing {
    THING_COUPON,
    THING_TRIAL,
    THING_OWN_VARIABLE,
    THING_SETTING,
    THING_CALIBRATION,
    THINGS
};

/* For what is stored from now on: the bench and the user the changes are signed with. Copied. */
void journal_sign(struct book *book, const char *bench, const char *who);
/* What the next transaction does, as in "log 07": copied, and forgotten when it ends. Without it a
 * change is named by what it touches. */
void journal_name(struct book *book, const char *what);

/* Before a thing is changed, inside the transaction; does nothing when there is none yet, or when
 * this change has touched it already. */
int journal_keep(struct book *book, enum thing thing, int64_t id, struct error *e);
/* After one was made: the last step of a save. */
int journal_made(struct book *book, enum thing thing, int64_t id, struct error *e);

/* One change, as it is listed. The list owns its texts. */
struct change {
    int64_t number;
    struct instant when;
    char *bench, *who; /* NULL when not known */
    char *what;        /* "log" */
    char *things;      /* of what: "coupon 07 of trial tee", also of what is not in the book now */
    int64_t coupon;    /* the number of the one coupon it touched; 0: none, or several */
    bool undone;
    struct instant undone_when;
    char *undone_by; /* the bench */
};
struct change_list {
    struct change *items;
    size_t count, capacity;
};
/* The last `most` changes of the book, or of a coupon (by its number in the book, 0: all), the
 * earliest first. *out must be zeroed; the caller frees it. */
int journal_list(struct book *book, int64_t coupon, size_t most, struct change_list *out,
                 struct error *e);
/* The number of the coupon with this mark that a change had made and that is not in the book now,
 * the last of them; of this trial (by its number) or (0) of any. 0 in *out when there is none, or
 * when the book has a coupon with the mark. */
int journal_find_coupon(struct book *book, int64_t trial, const char *mark, int64_t *out,
                        struct error *e);
/*
 * A coupon as it was before and after a change that touched it. One that was not in the book is
 * empty, with `sequence` 0. Neither need be initialised; the caller frees both with coupon_free().
 */
int journal_coupon(struct book *book, const struct change *change, int64_t coupon,
                   struct coupon *before, struct coupon *after, struct error *e);
void change_list_free(struct change_list *list);

/*
 * Undoes a change, or redoes one that was undone, in a transaction of its own, and says in *out
 * which it was (the caller frees it with change_free()). Number 0: the last one of this bench that
 * can be, by the time it was made or undone. Refused with ERROR_INPUT, and nothing changed, when
 * there is none, when it is undone already (or not), or when something else has happened since to
 * what it touched: the line names that change.
 */
int journal_undo(struct book *book, int64_t number, struct change *out, struct error *e);
int journal_redo(struct book *book, int64_t number, struct change *out, struct error *e);
void change_free(struct change *change);

/* For store/undo.c: ERROR_INPUT when the states it would put back do not go with what is in the
 * book now. Done before anything is changed. */
int undo_refuse(struct book *book, const struct change *change, const char *verb, struct error *e);
/* For store/undo.c: fills in what the row of a change does not say, `things` and `coupon`. */
int change_take_things(struct book *book, struct change *change, struct error *e);

/* For store/transaction.c: before the commit; and after a part of it was taken over by the
 * transaction it lies in, or rolled back, with the level that is left. */
int journal_finish(struct book *book, struct error *e);
void journal_released(struct book *book, int level);
void journal_rolled_back(struct book *book, int level);

#endif
