#include <stdlib.h>

#include "base/print.h"
#include "cli/command.h"

static void say(void *context, const char *line)
{
    page_add(context, BLOCK_ITEM, "%s", line);
}

static int run(struct job *job, struct error *e)
{
    const char *to = job->in->argv[0];
    char *book = NULL;
    int rc = session_choose_book(job->in->call.book, &book, e);

    if (rc == 0)
        rc = book_recover(book, to, say, &job->page, e);
    if (rc == 0) {
        print_line(stdout, "%s: what could be read of %s; see what 'coldlap --book %s check' says",
                   to, book, to);
        print_line(stdout, job->page.count == 0 ? "nothing was found missing" : "not recovered:");
    }
    free(book);
    return rc < 0 ? rc : RUN_STORED;
}

const struct command cmd_recover = {
    .name = "recover", .least = 1, .most = 1, .run = run, .stored = "the new book is made"};
