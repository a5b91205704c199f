#include <stdlib.h>

#include "base/print.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    char *book = NULL, *kept = NULL;
    int rc = session_choose_book(job->in->call.book, &book, e);

    if (rc == 0)
        rc = book_put_back(book, job->in->argv[0], &kept, e);
    if (rc == 0) {
        print_line(stdout, "%s is put back as the book %s", job->in->argv[0], book);
        if (kept != NULL)
            print_line(stdout, "the book that was there is now %s", kept);
    }
    free(kept);
    free(book);
    return rc < 0 ? rc : RUN_STORED;
}

const struct command cmd_put_back = {
    .name = "put-back", .least = 1, .most = 1, .run = run, .stored = "the backup is put back"};
