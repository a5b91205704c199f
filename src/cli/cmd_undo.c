/* undo and redo. */
#include <errno.h>
#include <stdlib.h>

#include "app/task_history.h"
#include "base/print.h"
#include "cli/command.h"

/* The number of a change; 0 when none was given. */
static int read_number(const struct invocation *in, int64_t *out, struct error *e)
{
    char *end;

    *out = 0;
    if (in->argc == 0)
        return 0;
    errno = 0;
    *out = strtoll(in->argv[0], &end, 10);
    if (*end == '\0' && errno == 0 && *out > 0)
        return 0;
    return error_set(e, ERROR_USAGE,
                     "'%s' is no number of a change, such as 12; 'coldlap history' lists them",
                     in->argv[0]);
}

static int run_undo(struct job *job, struct error *e)
{
    int64_t number;
    char *done;

    if (read_number(job->in, &number, e) < 0 || job_open(job, BOOK_WRITE, e) < 0 ||
        task_undo(&job->session, number, &done, e) < 0)
        return -1;
    print_line(stdout, "%s; 'coldlap redo' does it again", done);
    free(done);
    return RUN_STORED;
}

static int run_redo(struct job *job, struct error *e)
{
    int64_t number;
    char *done;

    if (read_number(job->in, &number, e) < 0 || job_open(job, BOOK_WRITE, e) < 0 ||
        task_redo(&job->session, number, &done, e) < 0)
        return -1;
    print_line(stdout, "%s", done);
    free(done);
    return RUN_STORED;
}

const struct command cmd_undo = {
    .name = "undo", .most = 1, .run = run_undo, .stored = "the change is undone"};
const struct command cmd_redo = {
    .name = "redo", .most = 1, .run = run_redo, .stored = "the change is done again"};
