#include <stdlib.h>
#include <string.h>

#include "app/differences.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/entry.h"

/* "coupon 10 changed: fit-up and preheat"; what is no variable is not named. */
static void report(const struct session *s, const struct coupon *c, const struct coupon *before,
                   const char *trial)
{
    struct differences d;
    char *names;

    if (c->revision == before->revision) {
        print_line(stdout, "coupon %s stays as it was: nothing of this is new", c->mark);
        return;
    }
    d = differences_between(&s->variables, c, before);
    names = differences_names(&d);

    if (strcmp(c->trial, before->trial) != 0)
        print_line(stdout, "coupon %s is in trial %s now", c->mark, trial);
    if (strcmp(c->trial, before->trial) == 0 || d.count > 0)
        print_line(stdout, "coupon %s changed%s%s", c->mark, d.count > 0 ? ": " : "",
                   d.count > 0 ? names : "");
    free(names);
    differences_free(&d);
}

static int move(struct job *job, struct coupon *c, struct error *e)
{
    const char *to = option_value(job->in, "to-trial");

    if (entry_argument(job->in, "trial") != NULL)
        return error_set(e, ERROR_USAGE, "to put coupon %s into another trial: --to-trial NAME",
                         c->mark);
    if (to == NULL)
        return 0;
    if (task_trial(&job->session, to, &job->trial, e) < 0)
        return -1;
    memcpy(c->trial, job->trial.id, sizeof c->trial);
    return 0;
}

static int change(struct job *job, struct error *e)
{
    struct coupon *c = &job->coupon, before = {0};
    int rc;

    coupon_copy(&before, c);
    rc = move(job, c, e);
    if (rc == 0)
        rc = entry_apply(job, 1, c, e);
    if (rc == 0)
        rc = task_coupon_save(&job->session, c, e);
    if (rc == 0) {
        entry_ask(job, c, NULL);
        report(&job->session, c, &before, job->trial.name);
    }
    coupon_free(&before);
    return rc < 0 ? rc : RUN_STORED;
}

static int run(struct job *job, struct error *e)
{
    const struct invocation *in = job->in;

    if (in->argc == 1 && in->count == 0)
        return error_set(e, ERROR_USAGE, "say what changes: coldlap change %s KEY=VALUE",
                         in->argv[0]);
    return job_open_coupon(job, BOOK_WRITE, e) < 0 ? -1 : change(job, e);
}

const struct command cmd_change = {
    .name = "change", .least = 1, .most = ANY_NUMBER, .run = run, .stored = "the change is stored"};
