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

/* All of them, oldest first. `out` must be zeroed; the caller frees it with trial_list_free(). */
int trials_load(struct book *book, struct trial_list *out, struct error *e);

/* By name, case of letters ignored. `out` need not be initialised; the caller frees it with
 * trial_free(). No such trial: ERROR_INPUT, naming those there are. */
int trial_load(struct book *book, const char *name, struct trial *out, struct error *e);

/*
 * Stores a trial: with an empty id a new one (id, revision, and `when` if zero, are filled in),
 * otherwise in place of the stored one if `revision` is still the stored one. The name must be
 * given and free, and the trial still be the one loaded: else ERROR_INPUT. After an error the trial
 * is as it was before the call.
 */
int trial_save(struct book *book, struct trial *t, struct error *e);

/* The number the book has for the trial with this id; 0 when there is none. */
int trial_number(struct book *book, const char *id, int64_t *out, struct error *e);

#endif
