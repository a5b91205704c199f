/*
 * --help, made from the action table.
 */
#ifndef CLI_HELP_H
#define CLI_HELP_H

#include <stdio.h>

#include "app/actions.h"

void help_program(FILE *out);
/* What an exit code says; NULL behind the last. */
const char *code_meaning(int code);
void help_action(FILE *out, const struct action *action);

#endif
