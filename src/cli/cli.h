/*
 * The command line: global options, then a command with its own options and arguments.
 *
 *     coldlap [--book FILE] [--units metric|inch] [COMMAND …]
 *
 * main() asks cli_parse() what was meant. When no command is given the screens are started by the
 * caller; else cli_run() does the command.
 */
#ifndef CLI_CLI_H
#define CLI_CLI_H

#include <stdbool.h>

#include "base/error.h"
#include "model/units.h"

/* Exit codes, also in the manual. */
enum cli_exit {
    CLI_DONE = 0,
    CLI_INPUT = ERROR_INPUT,   /* 1: an input or the book was refused */
    CLI_USAGE = ERROR_USAGE,   /* 2: the command was not understood */
    CLI_ANSWER = ERROR_ANSWER, /* 3: the book cannot answer */
    CLI_SYSTEM = ERROR_SYSTEM, /* 4: file, disk, terminal */
};

/* What the command line asked for. The strings are those of argv. */
struct cli_call {
    const char *book; /* --book; NULL: COLDLAP_BOOK, else the default book */
    bool units_given; /* --units was given: for this run, not kept in the book */
    enum unit_system units;
    const char *keys;    /* --keys FILE: the screens read their keys from it; NULL: keyboard */
    const char *command; /* NULL: start the screens */
    int argc;            /* argv[0] is the command */
    char **argv;
};

/*
 * Reads the global options. Returns -1 when the program should go on with `out`; else the exit code
 * to end with, after --help and --version have been answered or a mistake has been reported.
 */
int cli_parse(int argc, char **argv, struct cli_call *out);

/* Prints the error on stderr, behind the name of the command (NULL: none), and returns the exit
 * code for it. */
int cli_report(const char *command, const struct error *e);

/* Does the command of `call` and returns the exit code. */
int cli_run(const struct cli_call *call);

#endif
