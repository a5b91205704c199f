#include <stdio.h>

#include "app/task_book.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"

static int run(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct page findings = {0};
    int found;

    if (need_arguments(in, 0, 0, e) < 0 || open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    found = task_book_check(&s, &findings, e);
    print_page(stdout, &findings);
    if (found == 0)
        print_line(stdout, "the book is in order");
    else if (found > 0)
        error_set(e, ERROR_INPUT,
                  found == 1 ? "one thing is not in order" : "%d things are not in order", found);
    page_free(&findings);
    session_close(&s);
    return found == 0 ? 0 : -1;
}

const struct command cmd_check = {.name = "check", .run = run};
