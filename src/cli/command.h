/*
 * How a command of the table (app/commands.h) is done. Each cmd_NAME.c exports one.
 */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include "base/error.h"
#include "cli/invocation.h"

enum { RUN_ANSWERED = 0, RUN_STORED = 1 };

struct command {
    const char *name; /* in the table */
    /* Answers on stdout, remarks on stderr. RUN_ANSWERED, RUN_STORED when something was stored that
     * stays even if the answer cannot be written, or negative with the error filled in. */
    int (*run)(const struct invocation *in, struct error *e);
    /* The command answers --help itself when an argument stands before it (calc KIND --help). */
    bool own_help;
    const char *stored; /* what RUN_STORED means; NULL: the command stores nothing */
};

extern const struct command cmd_backup, cmd_calc, cmd_change, cmd_check, cmd_compare, cmd_demo,
    cmd_export, cmd_feed, cmd_help, cmd_import, cmd_list, cmd_log, cmd_next, cmd_rank, cmd_restore,
    cmd_show, cmd_strike, cmd_trial, cmd_units, cmd_variable;

#endif
