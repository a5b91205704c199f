#include "app/machine_feed.h"
#include "calc/calc.h"
#include "calc/json.h"
#include "calc/page.h"
#include "cli/command.h"
#include "cli/nearest.h"

static const struct calc_kind *find_kind(const char *name, struct error *e)
{
    const struct calc_kind *kind = calc_kind_find(name);
    struct nearest near = {0};

    if (kind != NULL)
        return kind;
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        nearest_try(&near, name, calc_kind_at(i)->name);
    error_set(e, ERROR_USAGE, "there is no calculation '%s'%s%s%s", name,
              near.word != NULL ? "; did you mean '" : "; 'coldlap calc' lists them",
              near.word != NULL ? near.word : "", near.word != NULL ? "'?" : "");
    return NULL;
}

/* The book is of use, for its units and its machines' feed, but not needed. */
static int work_out(struct job *job, struct error *e)
{
    const struct invocation *in = job->in;
    struct session *book = job_open_if_any(job) ? &job->session : NULL;
    struct calc_answer a;

    if (calc_run_with_book(book, in->argv[0], (size_t)in->argc - 1, in->argv + 1,
                           job->session.units, &a, e) < 0)
        return -1;
    if (job_wants_json(job))
        job->data = calc_json(&a);
    else
        calc_answer_page(&a, &job->page);
    calc_answer_free(&a);
    return RUN_ANSWERED;
}

static int run(struct job *job, struct error *e)
{
    const struct calc_kind *kind;

    if (job->in->argc == 0) {
        calc_kinds_page(&job->page);
        return RUN_ANSWERED;
    }
    kind = find_kind(job->in->argv[0], e);
    if (kind == NULL)
        return -1;
    if (!job->in->help)
        return work_out(job, e);
    calc_kind_page(kind, &job->page);
    return RUN_ANSWERED;
}

const struct command cmd_calc = {.name = "calc", .most = ANY_NUMBER, .run = run, .own_help = true};
