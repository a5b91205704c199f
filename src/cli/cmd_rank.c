#include "analysis/rank.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    struct trial_question r = job_question(job, "ranking");
    struct rank_answer *a = NULL;
    long shuffles;

    if (option_count(job->in, "shuffle", 1, 1000000, 0, &shuffles, e) < 0 ||
        job_open(job, BOOK_READ, e) < 0)
        return -1;
    r.anyway = option_given(job->in, "anyway");
    r.shuffles = (size_t)shuffles;
    if (rank_make(&job->session, &r, &a, e) < 0)
        return -1;
    if (job_wants_json(job))
        job->data = rank_json(a);
    else
        rank_page(a, &job->page);
    rank_free(a);
    return RUN_ANSWERED;
}

const struct command cmd_rank = {.name = "rank", .run = run};
