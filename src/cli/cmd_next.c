#include <stdio.h>
#include <stdlib.h>

#include "analysis/next.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"
#include "cli/progress.h"

static int answer(struct session *s, const struct invocation *in, const struct trial_question *r,
                  size_t count, struct error *e)
{
    struct next_answer *a = NULL;
    struct page p = {0};

    if (next_make(s, r, count, &a, e) < 0)
        return -1;
    progress_end(r->context);
    if (option_given(in, "json"))
        print_data(stdout, next_json(a));
    else {
        next_page(a, &p);
        print_page(stdout, &p);
    }
    page_free(&p);
    next_free(a);
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    struct progress progress = progress_begin("next coupons");
    struct trial_question r = {.trial = option_value(in, "trial"),
                               .result = option_value(in, "result"),
                               .progress = progress_show,
                               .context = &progress};
    struct session s = {0};
    const char **without;
    long count;
    int result;

    if (need_arguments(in, 0, 0, e) < 0 || option_count(in, "count", 1, 12, 1, &count, e) < 0 ||
        open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    r.without = without = option_values(in, "without", &r.without_count);
    result = answer(&s, in, &r, (size_t)count, e);
    progress_end(&progress);
    free(without);
    session_close(&s);
    return result;
}

const struct command cmd_next = {.name = "next", .run = run};
