#include "app/task_variable.h"
#include "base/print.h"
#include "cli/command.h"

/* Also without a book: there are the built-in ones to read about. */
static int list_variables(struct job *job, struct error *e)
{
    if (job->in->count > 0)
        return error_set(e, ERROR_USAGE, "name the variable: coldlap variable NAME --unit mm");
    job_open_if_any(job);
    task_variable_page(&job->session, &job->page);
    return RUN_ANSWERED;
}

static int make_variable(struct job *job, const char *name, struct error *e)
{
    const struct invocation *in = job->in;
    const char *unit = option_value(in, "unit");
    bool number = unit != NULL || option_given(in, "number"), result = option_given(in, "result");
    char key[64];
    struct variable own = {
        .key = key,
        .label = name,
        .group = result ? GROUP_RESULT : GROUP_OTHER,
        .role = result ? ROLE_RESULT : ROLE_CAUSE,
        .kind = number ? VARIABLE_NUMBER : VARIABLE_CATEGORY,
        .unit = unit,
        .help = option_value(in, "help-text"),
        .own = true,
    };

    if (!variable_key_from_name(name, key, sizeof key))
        return error_set(e, ERROR_INPUT, "'%s' is no name: a name needs letters", name);
    if (job_open(job, BOOK_CREATE, e) < 0 || task_variable_add(&job->session, &own, e) < 0)
        return -1;
    print_line(stdout, "%s is now a variable of this book: a %s, %s", key,
               result ? "result" : "cause", number ? "a number" : "a category");
    return RUN_STORED;
}

static int run(struct job *job, struct error *e)
{
    return job->in->argc == 0 ? list_variables(job, e) : make_variable(job, job->in->argv[0], e);
}

const struct command cmd_variable = {
    .name = "variable", .most = 1, .run = run, .stored = "the variable is stored"};
