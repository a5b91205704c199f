#include <stdio.h>
#include <stdlib.h>

#include "analysis/rank.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"
#include "cli/progress.h"

static int answer(struct session *s, const struct invocation *in, const struct trial_question *r,
                  struct error *e)
{
    struct rank_answer *a = NULL;
    struct page p = {0};

    if (rank_make(s, r, &a, e) < 0)
        return -1;
    progress_end(r->context);
    if (option_given(in, "json"))
        print_data(stdout, rank_json(a));
    else {
        rank_page(a, &p);
        print_page(stdout, &p);
    }
    page_free(&p);
    rank_free(a);
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    struct progress progress = progress_begin("ranking");
    struct trial_question r = {.trial = option_value(in, "trial"),
                               .result = option_value(in, "result"),
                               .anyway = option_given(in, "anyway"),
                               .progress = progress_show,
                               .context = &progress};
    struct session s = {0};
    const char **with, **without;
    long shuffles;
    int result;

    if (need_arguments(in, 0, 0, e) < 0 ||
        option_count(in, "shuffle", 1, 1000000, 0, &shuffles, e) < 0 ||
        open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    r.shuffles = (size_t)shuffles;
    r.with = with = option_values(in, "with", &r.with_count);
    r.without = without = option_values(in, "without", &r.without_count);
    result = answer(&s, in, &r, e);
    progress_end(&progress);
    free(with);
    free(without);
    session_close(&s);
    return result;
}

const struct command cmd_rank = {.name = "rank", .run = run};
