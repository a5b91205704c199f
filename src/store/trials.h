/*
 * Trials in the book. Every earlier state of a changed trial is kept in the journal.
 *
 * Errors are those of store/db.h; saving in a book that can only be read is ERROR_SYSTEM.
 */
#ifndef STORE_TRIALS_H
#define STORE_TRIALS_H

#include <stdint.h>

#include "base/error.h"
#include "model/trial.h"
#include "store/book.h"

/* All that are not struck out, or all, oldest first. `out` must be zeroed; the caller frees it with
 * trial_list_free(). */
int trials_load(struct book *book, struct trial_list *out, struct error *e);
int trials_load_all(struct book *book, struct trial_list *out, struct error *e);

/* By name, case of letters ignored. `out` need not be initialised; the caller frees it with
 * trial_free(). No such trial: ERROR_INPUT, naming those there are. */
int trial_load(struct book *book, const char *name, struct trial *out, struct error *e);
/* The same of those struck out; of several the newest. */
int trial_load_struck(struct book *book, const char *name, struct trial *out, struct error *e);

/*
 * Stores a trial: with an empty id a new one (id, revision, and `when` if zero, are filled in),
 * otherwise in place of the stored one if `revision` is still the stored one. The name must be
 * given and free, and the trial still be the one loaded: else ERROR_INPUT. After an error the trial
 * is as it was before the call.
 */
int trial_save(struct book *book, struct trial *t, struct error *e);

/*
 * Strikes a trial out with the coupons that are in use in it, with a reason (not empty); its name
 * is free then, and it takes no coupon. Taking it back takes back the coupons that were struck out
 * with it; refused with ERROR_INPUT when another has its name. `t` stays as it is.
 */
int trial_strike(struct book *book, const struct trial *t, const char *why, struct error *e);
int trial_restore(struct book *book, const struct trial *t, struct error *e);

/* Refused with ERROR_INPUT: a trial, by its number, that is struck out; a name that another trial
 * in use has. */
int trial_refuse_struck(struct book *book, int64_t trial, struct error *e);
int trial_name_is_free(struct book *book, const char *name, const char *id, struct error *e);

/* The number the book has for the trial with this id; 0 when there is none. */
int trial_number(struct book *book, const char *id, int64_t *out, struct error *e);

#endif
