/*
 * --help, made from the table of commands.
 */
#ifndef CLI_HELP_H
#define CLI_HELP_H

#include <stdio.h>

#include "app/commands.h"

void help_program(FILE *out);
void help_command(FILE *out, const struct command_usage *usage);
/* What an exit code says; NULL behind the last. */
const char *code_meaning(int code);

#endif
