#include <stdint.h>

#include "app/history_page.h"
#include "cli/command.h"

enum { USUAL = 20 };

static int answer(struct job *job, const struct history *history, struct error *e)
{
    return job_wants_json(job) ? history_json(&job->session, history, &job->data, e)
                               : history_page(&job->session, history, &job->page, e);
}

static int run(struct job *job, struct error *e)
{
    const struct invocation *in = job->in;
    size_t most = option_given(in, "all") ? INT32_MAX : USUAL;
    struct history history;
    int rc;

    if (job_open(job, BOOK_READ, e) < 0 ||
        task_history(&job->session, in->argc > 0 ? in->argv[0] : NULL, most, &history, e) < 0)
        return -1;
    rc = answer(job, &history, e);
    history_free(&history);
    return rc;
}

const struct command cmd_history = {.name = "history", .most = 1, .run = run};
