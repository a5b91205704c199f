#include "cli/job.h"

#include <assert.h>
#include <stdlib.h>

#include "base/print.h"
#include "cli/print.h"

int job_open(struct job *job, enum book_mode mode, struct error *e)
{
    struct session *s = &job->session;
    const struct cli_call *call = &job->in->call;
    int rc;

    job->progress = progress_begin("bringing the book up to date");
    book_watch(progress_show, &job->progress);
    rc = session_open(s, call->book, mode, e);
    book_watch(NULL, NULL);
    progress_end(&job->progress);
    if (rc < 0)
        return -1;
    if (call->units_given)
        s->units = call->units;
    if (mode == BOOK_READ || session_read_only(s) == NULL)
        return 0;
    return error_set(e, ERROR_SYSTEM, "%s: %s; nothing can be stored in it", session_book_name(s),
                     session_read_only(s));
}

int job_open_trial(struct job *job, struct error *e)
{
    if (job_open(job, BOOK_READ, e) < 0)
        return -1;
    return task_trial(&job->session, option_value(job->in, "trial"), &job->trial, e);
}

int job_open_coupon(struct job *job, enum book_mode mode, struct error *e)
{
    assert(job->in->argc > 0);
    if (job_open(job, mode, e) < 0)
        return -1;
    return task_coupon(&job->session, job->in->argv[0], &job->coupon, e);
}

int job_mark_or_trial(const struct job *job, struct error *e)
{
    const struct invocation *in = job->in;

    if (option_given(in, "trial") != (in->argc > 0))
        return 0;
    if (in->argc == 0)
        return error_set(e, ERROR_USAGE, "say which: coldlap %s MARK, or coldlap %s --trial NAME",
                         in->usage->name, in->usage->name);
    return error_set(e, ERROR_USAGE,
                     "either a coupon or a whole trial; a coupon of a trial is %s/%s",
                     option_value(in, "trial"), in->argv[0]);
}

bool job_open_if_any(struct job *job)
{
    const struct cli_call *call = &job->in->call;

    if (job_open(job, BOOK_READ, NULL) == 0)
        return true;
    variable_list_init(&job->session.variables);
    job->session.units = call->units_given ? call->units : UNITS_METRIC;
    return false;
}

bool job_wants_json(const struct job *job)
{
    return option_given(job->in, "json");
}

struct trial_question job_question(struct job *job, const char *what)
{
    struct trial_question r = {.trial = option_value(job->in, "trial"),
                               .result = option_value(job->in, "result"),
                               .progress = progress_show,
                               .context = &job->progress};

    job->progress = progress_begin(what);
    r.with = job->with = option_values(job->in, "with", &r.with_count);
    r.without = job->without = option_values(job->in, "without", &r.without_count);
    return r;
}

void job_print(struct job *job)
{
    progress_end(&job->progress);
    if (job->data != NULL)
        print_data(stdout, job->data);
    else
        print_page(stdout, &job->page);
    job->data = NULL;
}

void job_remark(const struct job *job)
{
    char *remark = job->session.book == NULL ? NULL : book_remark(job->session.book);

    if (remark != NULL)
        print_line(stderr, "coldlap %s: %s", job->in->usage->name, remark);
    free(remark);
}

void job_end(struct job *job)
{
    progress_end(&job->progress);
    free(job->data);
    free(job->with);
    free(job->without);
    page_free(&job->page);
    page_free(&job->questions);
    coupon_free(&job->coupon);
    trial_free(&job->trial);
    session_close(&job->session);
}
