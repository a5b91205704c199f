/*
 * Commands by name.
 */
#ifndef CLI_LOOKUP_H
#define CLI_LOOKUP_H

#include "cli/command.h"

/* NULL with the error filled in, which names the nearest command, when there is none. */
const struct command *lookup_command(const char *name, struct error *e);
const struct command *lookup_at(size_t i); /* NULL behind the last */

#endif
