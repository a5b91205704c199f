#include "analysis/next.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    struct trial_question r = job_question(job, "next coupons");
    struct next_answer *a = NULL;
    long count;

    if (option_count(job->in, "count", 1, 12, 1, &count, e) < 0 ||
        job_open(job, BOOK_READ, e) < 0 || next_make(&job->session, &r, (size_t)count, &a, e) < 0)
        return -1;
    if (job_wants_json(job))
        job->data = next_json(a);
    else
        next_page(a, &job->page);
    next_free(a);
    return RUN_ANSWERED;
}

const struct command cmd_next = {.name = "next", .run = run};
