/*
 * One call of a command: what was asked, what was opened for it, and its answer. cli.c begins it,
 * prints the answer when the command went well, and ends it; a command opens what it needs once it
 * knows that it was asked well.
 */
#ifndef CLI_JOB_H
#define CLI_JOB_H

#include "analysis/trial_data.h"
#include "app/session.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/error.h"
#include "cli/invocation.h"
#include "cli/progress.h"
#include "page/page.h"

/* Begins zeroed but for `in`; what it holds is released by job_end(). */
struct job {
    const struct invocation *in;
    struct session session;
    struct trial trial;    /* of job_open_trial(), or the command's own */
    struct coupon coupon;  /* of job_open_coupon() */
    struct page page;      /* the answer */
    struct page questions; /* about what was entered */
    char *data;            /* the answer as JSON instead; NULL: the page */
    struct progress progress;
    const char **with, **without; /* of job_question() */
};

/* Opens the book, with the units of --units for this run. ERROR_SYSTEM also for a book that can
 * only be read when it is to be written. At most one of these is called, once. */
int job_open(struct job *job, enum book_mode mode, struct error *e);
/* Refuses with ERROR_USAGE what is neither a MARK nor --trial NAME, or both. */
int job_mark_or_trial(const struct job *job, struct error *e);
/* The book to read, and in it the trial of --trial (NULL: the last). Fails as task_trial() does. */
int job_open_trial(struct job *job, struct error *e);
/* The book, and in it the coupon the first argument names. Fails as task_coupon() does. */
int job_open_coupon(struct job *job, enum book_mode mode, struct error *e);
/* The book to read, if there is one; else false, and the session has the variables that every book
 * has. */
bool job_open_if_any(struct job *job);

bool job_wants_json(const struct job *job);
/* The question of a ranking as the options ask it, with progress shown as `what`; the job owns its
 * lists. */
struct trial_question job_question(struct job *job, const char *what);

void job_print(struct job *job);        /* the answer, on stdout */
void job_remark(const struct job *job); /* what there is to say of the book, on stderr */
void job_end(struct job *job);

#endif
