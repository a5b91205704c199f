#include <stdio.h>

#include "analysis/compare.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"
#include "cli/progress.h"

static int answer(struct session *s, const struct invocation *in, const struct trial_question *r,
                  struct error *e)
{
    struct compare_answer *a = NULL;
    struct page p = {0};
    bool levels = in->argc == 3;
    int result;

    if (in->argc == 0)
        result =
            compare_marks(s, r, option_value(in, "coupons"), option_value(in, "against"), &a, e);
    else
        result = compare_make(s, r, in->argv[0], levels ? in->argv[1] : NULL,
                              levels ? in->argv[2] : NULL, &a, e);
    if (result < 0)
        return result;
    progress_end(r->context);
    if (option_given(in, "json"))
        print_data(stdout, compare_json(a));
    else {
        compare_page(a, &p);
        print_page(stdout, &p);
    }
    page_free(&p);
    compare_free(a);
    return 0;
}

/* A variable, or two groups of coupons, and not both. */
static int check_question(const struct invocation *in, struct error *e)
{
    bool marks = option_given(in, "coupons") || option_given(in, "against");

    if (!marks)
        return need_arguments(in, 1, 3, e);
    if (in->argc > 0)
        return error_set(e, ERROR_USAGE, "compare a variable or coupons, not both");
    if (!option_given(in, "coupons") || !option_given(in, "against"))
        return error_set(e, ERROR_USAGE, "two groups are needed: --coupons 01,02 --against 03,04");
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    struct progress progress = progress_begin("comparison");
    struct trial_question r = {.trial = option_value(in, "trial"),
                               .result = option_value(in, "result"),
                               .progress = progress_show,
                               .context = &progress};
    struct session s = {0};
    int result;

    if (check_question(in, e) < 0)
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

const struct command cmd_compare = {.name = "compare", .run = run};
