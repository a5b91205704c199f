#include "base/print.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    const char *why = option_value(job->in, "why");

    if (why == NULL || *why == '\0')
        return error_set(e, ERROR_USAGE, "a reason is needed: coldlap strike %s --why '...'",
                         job->in->argv[0]);
    if (job_open_coupon(job, BOOK_WRITE, e) < 0 ||
        task_coupon_strike(&job->session, &job->coupon, why, e) < 0)
        return -1;
    print_line(stdout, "coupon %s struck out: %s", job->coupon.mark, why);
    return RUN_STORED;
}

const struct command cmd_strike = {
    .name = "strike", .least = 1, .most = 1, .run = run, .stored = "the coupon is struck out"};
