#include <stdlib.h>
#include <string.h>

#include "app/task_export.h"
#include "base/file_out.h"
#include "base/print.h"
#include "cli/command.h"

static int read_format(const struct invocation *in, enum export_format *out, struct error *e)
{
    const char *name = option_value(in, "format");

    *out = name != NULL && strcmp(name, "json") == 0 ? EXPORT_JSON : EXPORT_CSV;
    if (name == NULL || *out == EXPORT_JSON || strcmp(name, "csv") == 0)
        return 0;
    return error_set(e, ERROR_USAGE, "--format %s: csv or json is right", name);
}

static int write_out(const struct job *job, struct exported *exported, struct error *e)
{
    const struct invocation *in = job->in;
    struct file_out file;
    const char *name;

    if (file_open(&file, in->argc > 0 ? in->argv[0] : NULL, session_book_name(&job->session),
                  option_given(in, "force"), e) < 0)
        return -1;
    name = file.name;
    print_data(file.out, exported->text);
    exported->text = NULL;
    if (file_close(&file, e) < 0)
        return -1;
    if (name != NULL)
        print_line(stderr, "coldlap export: %zu coupon%s written to %s", exported->coupons,
                   exported->coupons == 1 ? "" : "s", name);
    if (exported->remark != NULL)
        print_line(stderr, "coldlap export: %s", exported->remark);
    return 0;
}

static int run(struct job *job, struct error *e)
{
    enum export_format format;
    struct exported exported;
    int rc;

    if (read_format(job->in, &format, e) < 0 || job_open_trial(job, e) < 0 ||
        task_export(&job->session, &job->trial, format, option_given(job->in, "struck"), &exported,
                    e) < 0)
        return -1;
    rc = write_out(job, &exported, e);
    free(exported.text);
    free(exported.remark);
    return rc;
}

const struct command cmd_export = {.name = "export", .most = 1, .run = run};
