#include <errno.h>
#include <fcntl.h>
#include <linux/magic.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/vfs.h>
#include <unistd.h>

#include "app/task_import.h"
#include "base/mem.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"

/* A FIFO by name, or a device: nobody may ever write to it. A shell's <(...) is no such one. */
static bool may_never_come(int fd)
{
    struct pollfd ready = {.fd = fd, .events = POLLIN};
    struct statfs on;

    return poll(&ready, 1, 0) == 0 && !(fstatfs(fd, &on) == 0 && on.f_type == PIPEFS_MAGIC);
}

/* Opened without waiting, so that waiting can be said first; Ctrl-C ends it. */
static FILE *open_input(const char *path, struct error *e)
{
    int fd = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    struct pollfd ready = {.fd = fd, .events = POLLIN};
    FILE *in = NULL;

    if (fd >= 0 && may_never_come(fd)) {
        print_line(stderr, "coldlap import: waiting for data from %s", path);
        poll(&ready, 1, -1);
    }
    if (fd >= 0 && fcntl(fd, F_SETFL, 0) == 0)
        in = fdopen(fd, "r");
    if (in == NULL)
        error_set(e, ERROR_SYSTEM, "%s: %s", path, strerror(errno));
    if (in == NULL && fd >= 0)
        close(fd);
    return in;
}

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
    request.in = piped ? stdin : open_input(in->argv[0], e);
    if (request.in == NULL)
        return -1;
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
    .name = "import", .run = run, .stored = "the coupons are stored"};
