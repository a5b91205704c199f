#include "base/print.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    const char *trial = option_value(job->in, "trial");

    if (job_mark_or_trial(job, e) < 0)
        return -1;
    if (trial == NULL) {
        if (job_open_coupon(job, BOOK_WRITE, e) < 0 ||
            task_coupon_restore(&job->session, &job->coupon, e) < 0)
            return -1;
        print_line(stdout, "coupon %s counts again", job->coupon.mark);
        return RUN_STORED;
    }
    if (job_open(job, BOOK_WRITE, e) < 0 ||
        task_trial_restore(&job->session, trial, &job->trial, e) < 0)
        return -1;
    print_line(stdout, "trial %s is back, with the coupons that were struck out with it",
               job->trial.name);
    return RUN_STORED;
}

const struct command cmd_restore = {
    .name = "restore", .most = 1, .run = run, .stored = "it is back"};
