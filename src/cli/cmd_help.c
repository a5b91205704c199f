#include <stdio.h>

#include "cli/command.h"
#include "cli/help.h"
#include "cli/lookup.h"

static int run(struct job *job, struct error *e)
{
    const struct command *command;

    if (job->in->argc == 0) {
        help_program(stdout);
        return RUN_ANSWERED;
    }
    command = lookup_command(job->in->argv[0], e);
    if (command == NULL)
        return -1;
    help_command(stdout, command_find(command->name));
    return RUN_ANSWERED;
}

const struct command cmd_help = {.name = "help", .most = 1, .run = run};
