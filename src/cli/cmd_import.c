#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/tasks.h"
#include "base/mem.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"

static int bring_in(struct session *s, const struct import_request *request, struct error *e)
{
    struct import_outcome outcome = {0};
    int result = task_import(s, request, &outcome, e);
    char *left_out;

    print_page(stderr, &outcome.notes);
    print_page(stderr, &outcome.rows);
    page_free(&outcome.notes);
    page_free(&outcome.rows);
    if (result < 0)
        return -1;
    left_out = outcome.rejected == 0 ? mem_copy("")
                                     : mem_format(", %zu row%s left out", outcome.rejected,
                                                  outcome.rejected == 1 ? "" : "s");
    print_line(stdout, "%zu coupon%s brought in%s", outcome.coupons,
               outcome.coupons == 1 ? "" : "s", left_out);
    free(left_out);
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    struct import_request request = {0};
    struct session s = {0};
    const char **results;
    bool piped;
    int result;

    if (need_arguments(in, 1, 1, e) < 0)
        return -1;
    piped = strcmp(in->argv[0], "-") == 0;
    request.trial = option_value(in, "trial");
    request.skip_bad = option_given(in, "skip-bad");
    request.name = piped ? "standard input" : in->argv[0];
    request.in = piped ? stdin : fopen(in->argv[0], "r");
    if (request.in == NULL)
        return error_set(e, ERROR_SYSTEM, "%s: %s", in->argv[0], strerror(errno));
    results = option_values(in, "result", &request.result_count);
    request.results = results;
    result = open_book(in, BOOK_CREATE, &s, e);
    if (result == 0)
        result = bring_in(&s, &request, e);
    session_close(&s);
    free(results);
    if (!piped)
        fclose(request.in);
    return result < 0 ? result : RUN_STORED;
}

const struct command cmd_import = {
    .action = "import", .run = run, .stored = "the coupons are stored"};
