#include "base/print.h"
#include "cli/command.h"

static int strike(struct job *job, const char *trial, const char *why, struct error *e)
{
    if (trial == NULL) {
        if (job_open_coupon(job, BOOK_WRITE, e) < 0 ||
            task_coupon_strike(&job->session, &job->coupon, why, e) < 0)
            return -1;
        print_line(stdout, "coupon %s struck out: %s", job->coupon.mark, why);
        return RUN_STORED;
    }
    if (job_open(job, BOOK_WRITE, e) < 0 ||
        task_trial_strike(&job->session, trial, why, &job->trial, e) < 0)
        return -1;
    print_line(stdout, "trial %s struck out with its coupons: %s", job->trial.name, why);
    return RUN_STORED;
}

static int run(struct job *job, struct error *e)
{
    const char *why = option_value(job->in, "why"), *trial = option_value(job->in, "trial");

    if (job_mark_or_trial(job, e) < 0)
        return -1;
    if (why == NULL || *why == '\0')
        return error_set(e, ERROR_USAGE, "a reason is needed: coldlap strike %s%s --why '...'",
                         trial != NULL ? "--trial " : "", trial != NULL ? trial : job->in->argv[0]);
    return strike(job, trial, why, e);
}

const struct command cmd_strike = {
    .name = "strike", .most = 1, .run = run, .stored = "it is struck out"};
