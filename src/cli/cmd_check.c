#include "app/task_book.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/print.h"

static int run(struct job *job, struct error *e)
{
    int found;

    if (job_open(job, BOOK_READ, e) < 0)
        return -1;
    found = task_book_check(&job->session, &job->page, e);
    if (found == 0)
        print_line(stdout, "the book is in order");
    else
        print_page(stdout, &job->page);
    if (found > 0)
        return error_set(e, ERROR_INPUT,
                         found == 1 ? "one thing is not in order" : "%d things are not in order",
                         found);
    return found;
}

const struct command cmd_check = {.name = "check", .run = run};
