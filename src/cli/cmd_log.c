#include <stdio.h>
#include <stdlib.h>

#include "app/coupon_questions.h"
#include "app/differences.h"
#include "app/task_coupon.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/entry.h"
#include "cli/open.h"
#include "cli/print.h"

static void report(const struct session *s, const struct logging *l)
{
    struct differences d;
    char *sentence;

    print_line(stdout, "coupon %s in trial %s", l->coupon.mark, l->trial.name);
    if (!l->has_last) {
        print_line(stdout, "the first one of this trial");
        return;
    }
    d = differences_between(&s->variables, &l->coupon, &l->last);
    sentence = differences_sentence(&d, l->last.mark);
    print_line(stdout, "%s", sentence);
    free(sentence);
    differences_free(&d);
}

static int log_into(struct session *s, const struct invocation *in, const char *trial,
                    struct error *e)
{
    struct page questions = {0};
    struct logging l;
    int rc = task_log_begin(s, trial, option_given(in, "fresh"), &l, e);

    if (rc == 0)
        rc = entry_apply(s, in, 0, &l.coupon, &questions, e);
    if (rc == 0)
        rc = task_log_save(s, &l, e);
    if (rc == 0) {
        coupon_questions(s, &l.coupon, l.has_last ? &l.last : NULL, &questions);
        entry_ask(in, &questions);
        report(s, &l);
    }
    task_log_end(s, &l);
    page_free(&questions);
    return rc;
}

static int run(const struct invocation *in, struct error *e)
{
    const char *trial = option_value(in, "trial");
    struct session s = {0};
    int rc;

    if (trial == NULL)
        trial = entry_argument(in, 0, "trial");
    if (open_book(in, BOOK_CREATE, &s, e) < 0)
        return -1;
    rc = log_into(&s, in, trial, e);
    session_close(&s);
    return rc < 0 ? rc : RUN_STORED;
}

const struct command cmd_log = {.name = "log", .run = run, .stored = "the coupon is stored"};
