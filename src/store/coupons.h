/*
 * Coupons in the book. A coupon is loaded and saved whole: values, passes, bend, face, photographs.
 * Every earlier state of a changed coupon is kept in the journal.
 *
 * Errors are those of store/db.h, with ERROR_SYSTEM for saving in a book that can only be read.
 * What is refused below is ERROR_INPUT.
 */
#ifndef STORE_COUPONS_H
#define STORE_COUPONS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/coupon.h"
#include "store/book.h"

/*
 * Coupons in the order of their sequence, of one trial or (NULL) of the whole book, with or without
 * those struck out. `out` must be zeroed; the caller frees it with coupon_list_free().
 */
int coupons_load(struct book *book, const char *trial_id, bool with_struck, struct coupon_list *out,
                 struct error *e);

/* The same without the words numbers were given in and without photographs: what working with the
 * figures of many coupons needs. */
int coupons_load_figures(struct book *book, const char *trial_id, bool with_struck,
                         struct coupon_list *out, struct error *e);

/*
 * The coupon of a trial with this mark (case of letters ignored); the one last struck out when no
 * other has it. Without a trial (NULL) the mark must be on one coupon in use only. `out` need not
 * be initialised; the caller frees it with coupon_free(). No such coupon, or several: ERROR_INPUT.
 */
int coupon_load(struct book *book, const char *trial_id, const char *mark, struct coupon *out,
                struct error *e);

/* The same by its number in the book (`sequence`): struck out or not, and whatever mark it bears.
 */
int coupon_load_number(struct book *book, long number, struct coupon *out, struct error *e);

/*
 * The coupon in use that was stored before `c` in its trial; before one that is not stored yet, the
 * last of the trial. Returns 1, or 0 when there is none and `out` is empty, or -1. `out` need not
 * be initialised; the caller frees it with coupon_free().
 */
int coupon_load_before(struct book *book, const struct coupon *c, struct coupon *out,
                       struct error *e);

/*
 * Stores a coupon. With an empty id it is a new one, and id, sequence and revision are filled in,
 * the mark (next free) when NULL or empty, `when` (now) when zero. Otherwise it replaces what is
 * stored whole, if `revision` is still the stored one; when another program changed the coupon
 * meanwhile it is refused. Whether it is struck out is not changed. Nothing is stored, and the
 * revision stays, when the coupon is as the book has it.
 *
 * Not stored: numbers with a missing measure. Refused: a mark that another coupon of the
 * trial has (the line
 * names it), passes not numbered 1, 2, 3 …, numbers no weld can have. After an error the coupon
 * is as it was before the call.
 */
int coupon_save(struct book *book, struct coupon *c, struct error *e);

/* Strikes a stored coupon out, with a reason (not empty), and takes it back. The revision in the
 * book goes up, `c` stays as it is. */
int coupon_strike(struct book *book, const struct coupon *c, const char *why, struct error *e);
int coupon_restore(struct book *book, const struct coupon *c, struct error *e);

/*
 * The next free mark: the setting "bench_letter", if any, and a number of at least two digits, one
 * more than the highest so far, struck-out coupons included: 01, 02 …, A07. 16 bytes are enough.
 */
int coupon_next_mark(struct book *book, char *out, size_t size, struct error *e);

#endif
