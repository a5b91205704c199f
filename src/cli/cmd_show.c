#include "app/coupon_page.h"
#include "app/task_export.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    if (job_open_coupon(job, BOOK_READ, e) < 0)
        return -1;
    if (job_wants_json(job))
        job->data = task_export_coupon(&job->session, &job->coupon);
    else
        coupon_page(&job->session, &job->coupon, &job->page);
    return RUN_ANSWERED;
}

const struct command cmd_show = {.name = "show", .least = 1, .most = 1, .run = run};
