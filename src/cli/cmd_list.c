#include "app/task_export.h"
#include "app/trial_page.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    bool struck = option_given(job->in, "struck");
    struct exported out;

    if (job_open_trial(job, e) < 0)
        return -1;
    if (job_wants_json(job)) {
        if (task_export(&job->session, &job->trial, EXPORT_JSON, struck, &out, e) < 0)
            return -1;
        job->data = out.text;
        return RUN_ANSWERED;
    }
    return trial_page_coupons(&job->session, &job->trial, struck, &job->page, e);
}

const struct command cmd_list = {.name = "list", .run = run};
