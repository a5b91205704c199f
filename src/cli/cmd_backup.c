#include "app/task_book.h"
#include "base/print.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    const char *to = job->in->argv[0];

    if (job_open(job, BOOK_READ, e) < 0 || task_book_backup(&job->session, to, e) < 0)
        return -1;
    print_line(stdout, "the book was copied to %s", to);
    return RUN_STORED;
}

const struct command cmd_backup = {
    .name = "backup", .least = 1, .most = 1, .run = run, .stored = "the copy is made"};
