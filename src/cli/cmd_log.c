#include <stdio.h>
#include <stdlib.h>

#include "app/differences.h"
#include "app/tasks.h"
#include "cli/command.h"
#include "cli/entry.h"
#include "cli/open.h"
#include "cli/print.h"

/* The coupon that was welded last in the trial, for saying what differs; NULL for the first. */
static const struct coupon *last_of(const struct coupon_list *coupons)
{
    return coupons->count > 0 ? &coupons->items[coupons->count - 1] : NULL;
}

static void report(const struct session *s, const struct trial *t, const struct coupon *c,
                   const struct coupon *last)
{
    struct differences d;
    char *sentence;

    printf("coupon %s in trial %s\n", c->mark, t->name);
    if (last == NULL) {
        printf("the first one of this trial\n");
        return;
    }
    d = differences_between(&s->variables, c, last);
    sentence = differences_sentence(&d, last->mark);
    printf("%s\n", sentence);
    free(sentence);
    differences_free(&d);
}

/* Left open, the mark is given by the book as it stores the coupon: another bench may be logging at
 * this moment. */
static void leave_mark_open(struct coupon *c)
{
    free(c->mark);
    c->mark = NULL;
}

static int log_into(struct session *s, const struct invocation *in, struct trial *t,
                    struct error *e)
{
    struct coupon_list before = {0};
    struct page questions = {0};
    struct coupon c = {0};
    int result;

    result = task_coupons(s, t, false, &before, e);
    if (result == 0)
        result = task_new_coupon(s, t, option_given(in, "fresh"), &c, e);
    if (result == 0) {
        leave_mark_open(&c);
        result = entry_apply(s, in, 0, &c, &questions, e);
    }
    if (result == 0)
        result = task_save_coupon(s, &c, e);
    if (result == 0) {
        coupon_questions(s, &c, last_of(&before), &questions);
        entry_ask(in, &questions);
        report(s, t, &c, last_of(&before));
    }
    page_free(&questions);
    coupon_free(&c);
    coupon_list_free(&before);
    return result;
}

/* What was typed is tried on a spare coupon, so that a slip leaves no new trial behind. */
static int try_entry(const struct session *s, const struct invocation *in, struct error *e)
{
    struct page unused = {0};
    struct coupon spare;
    int result;

    coupon_init(&spare);
    result = entry_apply(s, in, 0, &spare, &unused, e);
    coupon_free(&spare);
    page_free(&unused);
    return result;
}

static int run(const struct invocation *in, struct error *e)
{
    const char *named = option_value(in, "trial");
    struct session s = {0};
    struct trial t = {0};
    int result;

    if (named == NULL)
        named = entry_argument(in, 0, "trial");
    if (open_book(in, BOOK_CREATE, &s, e) < 0)
        return -1;
    result = try_entry(&s, in, e);
    if (result == 0)
        result = task_trial_to_fill(&s, named, &t, e);
    if (result == 0)
        result = log_into(&s, in, &t, e);
    trial_free(&t);
    session_close(&s);
    return result;
}

const struct command cmd_log = {"log", run, false};
