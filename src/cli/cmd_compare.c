#include <stdio.h>

#include "app/rank_task.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"
#include "cli/progress.h"

static int answer(struct session *s, const struct invocation *in, const struct rank_request *r,
                  struct error *e)
{
    struct compare_answer *a = NULL;
    struct page p = {0};
    bool levels = in->argc == 3;

    if (compare_make(s, r, in->argv[0], levels ? in->argv[1] : NULL, levels ? in->argv[2] : NULL,
                     &a, e) < 0)
        return -1;
    progress_end(r->context);
    if (option_given(in, "json"))
        print_json(compare_json(a));
    else {
        compare_page(a, &p);
        print_page(stdout, &p);
    }
    page_free(&p);
    compare_free(a);
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    struct progress progress = progress_begin("comparison");
    struct rank_request r = {.trial = option_value(in, "trial"),
                             .result = option_value(in, "result"),
                             .progress = progress_show,
                             .context = &progress};
    struct session s = {0};
    int result;

    if (need_arguments(in, 1, 3, e) < 0)
        return -1;
    if (in->argc == 2)
        return error_set(e, ERROR_USAGE, "name two levels of %s, or none", in->argv[0]);
    if (open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    result = answer(&s, in, &r, e);
    progress_end(&progress);
    session_close(&s);
    return result;
}

const struct command cmd_compare = {"compare", run, false};
