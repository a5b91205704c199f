/*
 * Trials as both front ends use them. A trial is named as the user names it, letters compared
 * without case; NULL means the one that was logged into last.
 *
 * Errors are those of store/trials.h, and what is said below.
 */
#ifndef APP_TASK_TRIAL_H
#define APP_TASK_TRIAL_H

#include "app/session.h"
#include "base/error.h"
#include "model/trial.h"

/* All that are not struck out, oldest first. The caller frees *out with trial_list_free(). */
int task_trials(struct session *s, struct trial_list *out, struct error *e);

/* ERROR_INPUT when no trial has this name; ERROR_ANSWER for NULL in a book without any. The caller
 * frees *out with trial_free(). */
int task_trial(struct session *s, const char *name, struct trial *out, struct error *e);

/* The trial coupons go into: as task_trial(), but made when there is none of that name, or (NULL)
 * none at all. Call it in a transaction, so that no other program makes the trial meanwhile. The
 * caller frees *out with trial_free(), which is empty after an error. */
int task_trial_to_fill(struct session *s, const char *name, struct trial *out, struct error *e);

int task_trial_save(struct session *s, struct trial *t, struct error *e); /* as trial_save() */

/* Strikes a trial out with its coupons, by name (ERROR_USAGE without a reason), and takes it back
 * with those that were struck out with it. The caller frees *out, which is empty after an error. */
int task_trial_strike(struct session *s, const char *name, const char *why, struct trial *out,
                      struct error *e);
int task_trial_restore(struct session *s, const char *name, struct trial *out, struct error *e);

/* The variable whose result decides the trial, or the one `named`, unless that is NULL. NULL with
 * ERROR_USAGE when there is no such variable or it is no result, with ERROR_ANSWER when it is a
 * category. The session owns it. */
const struct variable *task_trial_result(const struct session *s, const struct trial *t,
                                         const char *named, struct error *e);

#endif
