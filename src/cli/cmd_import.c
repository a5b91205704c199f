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
#include "base/print.h"
#include "base/text.h"
#include "cli/command.h"
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
    int rc = task_import(s, request, &outcome, e);
    struct text left_out = {0};

    progress_end(request->context);
    print_page(stderr, &outcome.notes);
    print_page(stderr, &outcome.rows);
    page_free(&outcome.notes);
    page_free(&outcome.rows);
    if (rc < 0)
        return -1;
    if (outcome.rejected > 0)
        text_addf(&left_out, ", %zu row%s left out", outcome.rejected,
                  outcome.rejected == 1 ? "" : "s");
    print_line(stdout, "%zu coupon%s brought in%s", outcome.coupons,
               outcome.coupons == 1 ? "" : "s", text_str(&left_out));
    text_free(&left_out);
    return RUN_STORED;
}

static int run(struct job *job, struct error *e)
{
    const struct invocation *in = job->in;
    bool piped = strcmp(in->argv[0], "-") == 0;
    struct import_request request = {
        .trial = option_value(in, "trial"),
        .skip_bad = option_given(in, "skip-bad"),
        .name = piped ? "standard input" : in->argv[0],
        .progress = progress_show,
        .context = &job->progress,
        .in = piped ? stdin : open_input(in->argv[0], e),
    };
    const char **results;
    int rc;

    if (request.in == NULL)
        return -1;
    request.results = results = option_values(in, "result", &request.result_count);
    rc = job_open(job, BOOK_CREATE, e);
    job->progress = progress_begin("bringing in");
    if (rc == 0)
        rc = bring_in(&job->session, &request, e);
    free(results);
    if (!piped)
        fclose(request.in);
    return rc;
}

const struct command cmd_import = {
    .name = "import", .least = 1, .most = 1, .run = run, .stored = "the coupons are stored"};
