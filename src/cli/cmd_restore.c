#include <stdio.h>

#include "app/task_coupon.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"

static int run(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct coupon c = {0};
    int result;

    if (need_arguments(in, 1, 1, e) < 0 || open_book(in, BOOK_WRITE, &s, e) < 0)
        return -1;
    result = task_coupon(&s, in->argv[0], &c, e);
    if (result == 0)
        result = task_coupon_restore(&s, &c, e);
    if (result == 0)
        print_line(stdout, "coupon %s counts again", c.mark);
    coupon_free(&c);
    session_close(&s);
    return result < 0 ? result : RUN_STORED;
}

const struct command cmd_restore = {
    .name = "restore", .run = run, .stored = "the coupon counts again"};
