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

static int run(struct job *job, struct error *e)
{
    const char *path = demo_path(job->in);
    size_t coupons;

    if (demo_make(path, &coupons, e) < 0)
        return -1;
    print_line(stdout, "%s: a book with %zu coupons. They are invented: nobody welded them.", path,
               coupons);
    print_line(stdout, "To look at it:  coldlap --book %s", path);
    print_line(stdout, "Its ranking:    coldlap --book %s rank", path);
    return RUN_STORED;
}

const struct command cmd_demo = {
    .name = "demo", .most = 1, .run = run, .stored = "the book is made"};
