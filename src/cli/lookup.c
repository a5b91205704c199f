#include "cli/lookup.h"

#include <string.h>

#include "cli/nearest.h"

static const struct command *const commands[] = {
    &cmd_log,     &cmd_change,  &cmd_list,  &cmd_show,     &cmd_strike,  &cmd_restore,
    &cmd_history, &cmd_undo,    &cmd_redo,  &cmd_import,   &cmd_export,  &cmd_rank,
    &cmd_next,    &cmd_compare, &cmd_trial, &cmd_variable, &cmd_calc,    &cmd_feed,
    &cmd_units,   &cmd_demo,    &cmd_check, &cmd_backup,   &cmd_backups, &cmd_put_back,
    &cmd_recover, &cmd_help,
};

const struct command *lookup_at(size_t i)
{
    return i < sizeof commands / sizeof *commands ? commands[i] : NULL;
}

const struct command *lookup_command(const char *name, struct error *e)
{
    struct nearest near = {0};

    for (size_t i = 0; lookup_at(i) != NULL; i++) {
        if (strcmp(lookup_at(i)->name, name) == 0)
            return lookup_at(i);
        nearest_try(&near, name, lookup_at(i)->name);
    }
    if (near.word != NULL)
        error_set(e, ERROR_USAGE, "there is no command '%s'; did you mean '%s'?", name, near.word);
    else
        error_set(e, ERROR_USAGE, "there is no command '%s'; 'coldlap --help' lists them", name);
    return NULL;
}
