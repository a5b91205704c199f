#include <stdlib.h>

#include "app/differences.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/entry.h"

static void report(const struct session *s, const struct logging *l)
{
    struct differences d;
    char *sentence;

    print_line(stdout, "coupon %s in trial %s", l->coupon.mark, l->trial.name);
    if (!l->has_last) {
        print_line(stdout, "the first one of this trial");
        return;
    }
    d = differences_between(&s->variables, &l->coupon, &l->last);
    sentence = differences_sentence(&d, l->last.mark);
    print_line(stdout, "%s", sentence);
    free(sentence);
    differences_free(&d);
}

static int log_into(struct job *job, const char *trial, struct error *e)
{
    struct session *s = &job->session;
    struct logging l;
    int rc = task_log_begin(s, trial, option_given(job->in, "fresh"), &l, e);

    if (rc == 0)
        rc = entry_apply(job, 0, &l.coupon, e);
    if (rc == 0)
        rc = task_log_save(s, &l, e);
    if (rc == 0) {
        entry_ask(job, &l.coupon, l.has_last ? &l.last : NULL);
        report(s, &l);
    }
    task_log_end(s, &l);
    return rc < 0 ? rc : RUN_STORED;
}

static int run(struct job *job, struct error *e)
{
    const char *trial = option_value(job->in, "trial");

    if (trial == NULL)
        trial = entry_argument(job->in, "trial");
    return job_open(job, BOOK_CREATE, e) < 0 ? -1 : log_into(job, trial, e);
}

const struct command cmd_log = {
    .name = "log", .most = ANY_NUMBER, .run = run, .stored = "the coupon is stored"};
