#include <stdio.h>
#include <stdlib.h>

#include "app/demo.h"
#include "base/print.h"
#include "cli/command.h"

/* The demo never goes to the default book, where the real work is: without a name it is made here.
 */
static const char *demo_path(const struct invocation *in)
{
    const char *set = getenv("COLDLAP_BOOK");

    if (in->argc > 0)
        return in->argv[0];
    if (in->call.book != NULL)
        return in->call.book;
    return set != NULL && *set != '\0' ? set : "demo.coldlap";
}

static int run(const struct invocation *in, struct error *e)
{
    size_t coupons;
    const char *path;

    if (need_arguments(in, 0, 1, e) < 0)
        return -1;
    path = demo_path(in);
    if (demo_make(path, &coupons, e) < 0)
        return -1;
    print_line(stdout, "%s: a book with %zu coupons. They are invented: nobody welded them.", path,
               coupons);
    print_line(stdout, "To look at it:  coldlap --book %s", path);
    print_line(stdout, "Its ranking:    coldlap --book %s rank", path);
    return RUN_STORED;
}

const struct command cmd_demo = {.name = "demo", .run = run, .stored = "the book is made"};
