#include <stdio.h>
#include <stdlib.h>

#include "app/coupon_questions.h"
#include "app/differences.h"
#include "app/task_coupon.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/entry.h"
#include "cli/open.h"

/* "coupon 10 changed: fit-up and preheat"; what is no variable is not named. */
static void report(const struct session *s, const struct coupon *c, const struct coupon *before)
{
    struct differences d = differences_between(&s->variables, c, before);
    char *names = differences_names(&d);

    print_line(stdout, "coupon %s changed%s%s", c->mark, d.count > 0 ? ": " : "",
               d.count > 0 ? names : "");
    free(names);
    differences_free(&d);
}

static int change(struct session *s, const struct invocation *in, struct error *e)
{
    struct coupon c = {0}, before = {0};
    struct page questions = {0};
    int result;

    if (task_coupon(s, in->argv[0], &c, e) < 0)
        return -1;
    coupon_copy(&before, &c);
    result = entry_apply(s, in, 1, &c, &questions, e);
    if (result == 0)
        result = task_coupon_save(s, &c, e);
    if (result == 0) {
        coupon_questions(s, &c, NULL, &questions);
        entry_ask(in, &questions);
        report(s, &c, &before);
    }
    page_free(&questions);
    coupon_free(&before);
    coupon_free(&c);
    return result;
}

static int run(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    int result;

    if (need_arguments(in, 1, 10000, e) < 0)
        return -1;
    if (in->argc == 1 && in->count == 0)
        return error_set(e, ERROR_USAGE, "say what changes: coldlap change %s KEY=VALUE",
                         in->argv[0]);
    if (open_book(in, BOOK_WRITE, &s, e) < 0)
        return -1;
    result = change(&s, in, e);
    session_close(&s);
    return result < 0 ? result : RUN_STORED;
}

const struct command cmd_change = {.name = "change", .run = run, .stored = "the change is stored"};
