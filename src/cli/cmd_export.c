#include <stdlib.h>
#include <string.h>

#include "app/task_export.h"
#include "base/file_out.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"

static int read_format(const struct invocation *in, enum export_format *out, struct error *e)
{
    const char *name = option_value(in, "format");

    *out = EXPORT_CSV;
    if (name == NULL || strcmp(name, "csv") == 0)
        return 0;
    *out = EXPORT_JSON;
    if (strcmp(name, "json") == 0)
        return 0;
    return error_set(e, ERROR_USAGE, "--format %s: csv or json is right", name);
}

static int hand_out(const struct invocation *in, const char *book, char *text, struct error *e)
{
    struct file_out file;

    if (file_open(&file, in->argc > 0 ? in->argv[0] : NULL, book, option_given(in, "force"), e) <
        0) {
        free(text);
        return -1;
    }
    print_data(file.out, text);
    return file_close(&file, e);
}

static int run(const struct invocation *in, struct error *e)
{
    enum export_format format;
    struct session s = {0};
    struct trial t = {0};
    char *text, *remark = NULL;
    int result;

    if (need_arguments(in, 0, 1, e) < 0 || read_format(in, &format, e) < 0 ||
        open_trial(in, BOOK_READ, &s, &t, e) < 0)
        return -1;
    result = task_export(&s, &t, format, option_given(in, "struck"), &text, &remark, e);
    if (result == 0)
        result = hand_out(in, session_book_name(&s), text, e);
    if (result == 0 && remark != NULL)
        print_line(stderr, "coldlap export: %s", remark);
    free(remark);
    trial_free(&t);
    session_close(&s);
    return result;
}

const struct command cmd_export = {.name = "export", .run = run};
