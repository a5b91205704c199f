#include "base/print.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    if (job_open_coupon(job, BOOK_WRITE, e) < 0 ||
        task_coupon_restore(&job->session, &job->coupon, e) < 0)
        return -1;
    print_line(stdout, "coupon %s counts again", job->coupon.mark);
    return RUN_STORED;
}

const struct command cmd_restore = {
    .name = "restore", .least = 1, .most = 1, .run = run, .stored = "the coupon counts again"};
