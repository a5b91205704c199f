#include <stdio.h>

#include "app/task_book.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"

static int run(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    int result;

    if (need_arguments(in, 1, 1, e) < 0 || open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    result = task_book_backup(&s, in->argv[0], e);
    if (result == 0)
        print_line(stdout, "the book was copied to %s", in->argv[0]);
    session_close(&s);
    return result < 0 ? result : RUN_STORED;
}

const struct command cmd_backup = {.name = "backup", .run = run, .stored = "the copy is made"};
