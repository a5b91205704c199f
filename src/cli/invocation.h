/*
 * A command as it was called: its options, taken apart by the table of commands, and its arguments.
 */
#ifndef CLI_INVOCATION_H
#define CLI_INVOCATION_H

#include <stdbool.h>
#include <stddef.h>

#include "app/commands.h"
#include "base/error.h"
#include "cli/cli.h"

struct given {
    const struct command_option *option;
    const char *value; /* NULL for a switch; belongs to argv */
};

struct invocation {
    struct cli_call call;              /* global options, also those given behind the command */
    const struct command_usage *usage; /* NULL: only global options were read */
    struct given *options;             /* in the order given */
    size_t count, capacity;
    bool help, version;
    int argc; /* arguments behind the options */
    char **argv;
};

/*
 * Takes the options of `call` apart (its argv is put into another order). `usage` NULL: only
 * global options are read, up to the first argument. Nothing needs freeing after an error.
 */
int invocation_read(struct invocation *in, const struct command_usage *usage,
                    const struct cli_call *call, struct error *e);
void invocation_free(struct invocation *in);

/* The value given last; NULL when the option was not given. */
const char *option_value(const struct invocation *in, const char *name);
bool option_given(const struct invocation *in, const char *name);
/* All values of an option that repeats; the caller frees the array, not the strings. */
const char **option_values(const struct invocation *in, const char *name, size_t *count);
/* A whole number from `min` to `max`; `otherwise` when the option was not given. ERROR_USAGE for
 * anything else. */
int option_count(const struct invocation *in, const char *name, long min, long max, long otherwise,
                 long *out, struct error *e);
/* Refuses fewer than `min` and more than `max` arguments with ERROR_USAGE. */
int need_arguments(const struct invocation *in, int min, int max, struct error *e);

#endif
