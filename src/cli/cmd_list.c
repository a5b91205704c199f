#include <stdio.h>

#include "app/task_export.h"
#include "app/trial_page.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"

static int list(struct session *s, const struct trial *t, bool struck, struct error *e)
{
    struct page p = {0};
    int result = trial_page_coupons(s, t, struck, &p, e);

    if (result == 0)
        print_page(stdout, &p);
    page_free(&p);
    return result;
}

static int list_json(struct session *s, const struct trial *t, bool struck, struct error *e)
{
    char *json, *remark;

    if (task_export(s, t, EXPORT_JSON, struck, &json, &remark, e) < 0)
        return -1;
    print_data(stdout, json);
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    bool struck = option_given(in, "struck");
    struct session s = {0};
    struct trial t = {0};
    int result;

    if (need_arguments(in, 0, 0, e) < 0 || open_trial(in, BOOK_READ, &s, &t, e) < 0)
        return -1;
    if (option_given(in, "json"))
        result = list_json(&s, &t, struck, e);
    else
        result = list(&s, &t, struck, e);
    trial_free(&t);
    session_close(&s);
    return result;
}

const struct command cmd_list = {.name = "list", .run = run};
