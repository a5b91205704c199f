#include <stdio.h>

#include "cli/command.h"
#include "cli/help.h"
#include "cli/lookup.h"

static int run(const struct invocation *in, struct error *e)
{
    const struct command *command;

    if (need_arguments(in, 0, 1, e) < 0)
        return -1;
    if (in->argc == 0) {
        help_program(stdout);
        return 0;
    }
    command = lookup_command(in->argv[0], e);
    if (command == NULL)
        return -1;
    help_command(stdout, command_find(command->name));
    return 0;
}

const struct command cmd_help = {.name = "help", .run = run};
