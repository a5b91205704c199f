/*
 * How a command of the table (app/commands.h) is done. Each cmd_NAME.c exports one.
 */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include <limits.h>

#include "base/error.h"
#include "cli/job.h"

enum { RUN_ANSWERED = 0, RUN_STORED = 1 };

struct command {
    const char *name; /* in the table */
    int least, most;  /* arguments it takes */
    /* Puts the answer into the job, or prints a line of it; remarks go to stderr. RUN_ANSWERED,
     * RUN_STORED when something was stored that stays even if the answer cannot be written, or
     * negative with the error filled in; the answer is not printed then. */
    int (*run)(struct job *job, struct error *e);
    /* The command answers --help itself when an argument stands before it (calc KIND --help). */
    bool own_help;
    const char *stored; /* what RUN_STORED means; NULL: the command stores nothing */
};

enum { ANY_NUMBER = INT_MAX };

extern const struct command cmd_backup, cmd_backups, cmd_calc, cmd_change, cmd_check, cmd_compare,
    cmd_demo, cmd_export, cmd_feed, cmd_help, cmd_history, cmd_import, cmd_list, cmd_log, cmd_next,
    cmd_put_back, cmd_rank, cmd_redo, cmd_recover, cmd_restore, cmd_show, cmd_strike, cmd_trial,
    cmd_undo, cmd_units, cmd_variable;

#endif
