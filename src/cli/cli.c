#include "cli/cli.h"

#include <assert.h>
#include <errno.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/commands.h"
#include "base/error.h"
#include "base/print.h"
#include "cli/help.h"
#include "cli/invocation.h"
#include "cli/lookup.h"

#ifndef COLDLAP_VERSION
#error "the build says which version this is"
#endif

int cli_report(const char *command, const struct error *e)
{
    assert(e->kind != ERROR_NONE);
    fflush(stdout);
    print_line(stderr, "coldlap%s%s: %s", command != NULL ? " " : "",
               command != NULL ? command : "", e->text);
    return (int)e->kind;
}

/* The exit code once an answer has been printed. A reader that closed its pipe has read enough: no
 * error. `stored` says what was done even if the answer could not be written; NULL: nothing. */
static int finish(const char *command, const char *stored)
{
    struct error e = {0};
    int failure = print_flush();

    if (failure == 0 || failure == EPIPE)
        return CLI_DONE;
    error_set(&e, ERROR_SYSTEM, "%s%sthe answer could not be written: %s",
              stored != NULL ? stored : "", stored != NULL ? ", but " : "", strerror(failure));
    return cli_report(command, &e);
}

/* A closed pipe must not end the program while it stores something. Text is UTF-8 in every locale.
 */
static void prepare(void)
{
    signal(SIGPIPE, SIG_IGN);
    if (setlocale(LC_CTYPE, "") == NULL || MB_CUR_MAX == 1)
        setlocale(LC_CTYPE, "C.UTF-8");
}

static int print_version(void)
{
    print_line(stdout, "coldlap %s", COLDLAP_VERSION);
    return finish(NULL, NULL);
}

int cli_parse(int argc, char **argv, struct cli_call *out)
{
    struct cli_call all = {.argc = argc, .argv = argv};
    struct invocation in;
    struct error e = {0};

    prepare();
    if (invocation_read(&in, NULL, &all, &e) < 0)
        return cli_report(NULL, &e);
    *out = in.call;
    out->argc = in.argc;
    out->argv = in.argv;
    out->command = in.argc > 0 ? in.argv[0] : NULL;
    if (in.version)
        return print_version();
    if (!in.help)
        return -1;
    help_program(stdout);
    return finish(NULL, NULL);
}

static int do_job(const struct command *command, const struct invocation *in, struct error *e)
{
    struct job job = {.in = in};
    int rc = need_arguments(in, command->least, command->most, e);

    if (rc == 0)
        rc = command->run(&job, e);
    if (rc >= 0)
        job_print(&job);
    job_remark(&job);
    job_end(&job);
    return rc;
}

static int do_command(const struct command *command, const struct cli_call *call)
{
    struct invocation in;
    struct error e = {0};
    int rc = invocation_read(&in, command_find(command->name), call, &e);

    if (rc < 0)
        return cli_report(command->name, &e);
    if (in.version)
        print_line(stdout, "coldlap %s", COLDLAP_VERSION);
    else if (in.help && !(command->own_help && in.argc > 0))
        help_command(stdout, in.usage);
    else
        rc = do_job(command, &in, &e);
    invocation_free(&in);
    if (rc < 0)
        return cli_report(command->name, &e);
    return finish(command->name, rc == RUN_STORED ? command->stored : NULL);
}

int cli_run(const struct cli_call *call)
{
    struct error e = {0};
    const struct command *command = lookup_command(call->command, &e);

    return command == NULL ? cli_report(NULL, &e) : do_command(command, call);
}
