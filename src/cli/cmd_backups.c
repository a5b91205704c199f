#include <stdlib.h>

#include "base/print.h"
#include "cli/command.h"

/* One line each, with the whole path, to be taken into another command. */
static int run(struct job *job, struct error *e)
{
    struct book_copies list = {0};
    char *book = NULL;
    int rc = session_choose_book(job->in->call.book, &book, e);

    if (rc == 0)
        rc = book_copies_list(book, &list, e);
    if (rc == 0 && list.count == 0)
        print_line(stdout, "there are no automatic backups of this book in %s", list.folder);
    for (size_t i = 0; i < list.count; i++) {
        const struct book_copy *c = &list.items[i];

        print_line(stdout, "%s  %-19s  %7.1f MB  %s/%s", c->when, c->why, (double)c->bytes / 1e6,
                   list.folder, c->name);
    }
    book_copies_free(&list);
    free(book);
    return rc;
}

const struct command cmd_backups = {.name = "backups", .run = run};
