#include "analysis/compare.h"
#include "cli/command.h"

/* A variable, with two of its levels or none, or else two groups of coupons. */
static int check_question(const struct invocation *in, struct error *e)
{
    bool coupons = option_given(in, "coupons"), against = option_given(in, "against");

    if (!coupons && !against && in->argc == 2)
        return error_set(e, ERROR_USAGE, "name two levels of %s, or none", in->argv[0]);
    if (!coupons && !against)
        return need_arguments(in, 1, 3, e);
    if (in->argc > 0)
        return error_set(e, ERROR_USAGE, "compare a variable or coupons, not both");
    if (!coupons || !against)
        return error_set(e, ERROR_USAGE, "two groups are needed: --coupons 01,02 --against 03,04");
    return 0;
}

static int compare(struct job *job, struct compare_answer **out, struct error *e)
{
    const struct invocation *in = job->in;
    struct trial_question r = job_question(job, "comparison");
    bool levels = in->argc == 3;

    if (in->argc == 0)
        return compare_marks(&job->session, &r, option_value(in, "coupons"),
                             option_value(in, "against"), out, e);
    return compare_make(&job->session, &r, in->argv[0], levels ? in->argv[1] : NULL,
                        levels ? in->argv[2] : NULL, out, e);
}

static int run(struct job *job, struct error *e)
{
    struct compare_answer *a = NULL;

    if (check_question(job->in, e) < 0 || job_open(job, BOOK_READ, e) < 0 ||
        compare(job, &a, e) < 0)
        return -1;
    if (job_wants_json(job))
        job->data = compare_json(a);
    else
        compare_page(a, &job->page);
    compare_free(a);
    return RUN_ANSWERED;
}

const struct command cmd_compare = {.name = "compare", .most = 3, .run = run};
