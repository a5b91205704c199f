/*
 * Opening the book a command was called for.
 */
#ifndef CLI_OPEN_H
#define CLI_OPEN_H

#include "app/session.h"
#include "base/error.h"
#include "cli/invocation.h"
#include "model/trial.h"

/* Also sets the units of --units, for this run. To write, a book that can only be read is refused
 * (ERROR_SYSTEM). Close with session_close(); after an error nothing is left open. */
int open_book(const struct invocation *in, enum book_mode mode, struct session *s, struct error *e);
/* The book, and in it the trial of --trial (or the last). Close with trial_free() and
 * session_close(); after an error nothing is left open. */
int open_trial(const struct invocation *in, enum book_mode mode, struct session *s, struct trial *t,
               struct error *e);

#endif
