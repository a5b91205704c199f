/*
 * What the command line can do, as data. Options, --help, the manual and the shell completion are
 * all derived from this table.
 */
#ifndef APP_COMMANDS_H
#define APP_COMMANDS_H

#include <stdbool.h>
#include <stddef.h>

struct part_row;

struct command_option {
    const char *name;            /* "trial"; NULL ends the list */
    const char *argument;        /* "NAME"; NULL for a switch */
    const char *help;            /* no capital, no full stop */
    const struct part_row *rows; /* the part it sets, whose table says the rest; NULL: none */
    bool repeats;                /* may be given more than once */
};

struct command_usage {
    const char *name;                     /* "log" */
    const char *arguments;                /* behind the options: "[KEY=VALUE]..."; NULL: none */
    const char *summary;                  /* one line, no full stop */
    const char *detail;                   /* a paragraph for --help and the manual; may be NULL */
    const struct command_option *options; /* NULL: none of its own */
    const char *example; /* a command line that works on the demo book; may be NULL */
};

const struct command_usage *command_at(size_t i);           /* NULL behind the last */
const struct command_usage *command_find(const char *name); /* NULL: there is none of this name */

/* What to say about an option. For a row of a part that is the help of the row and then the
 * option's; for a whole part, the option's help and then the keys of the part. Caller frees. */
char *command_option_help(const struct command_option *option);

/* Options every command takes. */
extern const struct command_option command_global_options[];

#endif
