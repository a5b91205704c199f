#include <stdio.h>

#include "app/coupon_page.h"
#include "app/task_coupon.h"
#include "app/task_export.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"

static void show(const struct session *s, const struct coupon *c)
{
    struct page p = {0};

    coupon_page(s, c, &p);
    print_page(stdout, &p);
    page_free(&p);
}

static int run(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct coupon c = {0};
    int result;

    if (need_arguments(in, 1, 1, e) < 0 || open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    result = task_coupon(&s, in->argv[0], &c, e);
    if (result == 0 && option_given(in, "json"))
        print_data(stdout, task_export_coupon(&s, &c));
    else if (result == 0)
        show(&s, &c);
    coupon_free(&c);
    session_close(&s);
    return result;
}

const struct command cmd_show = {.name = "show", .run = run};
