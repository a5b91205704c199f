/*
 * What the program can do, as data. Keys and hint lines of the screens, commands, options, --help,
 * the manual and the shell completion are all derived from this table.
 */
#ifndef APP_ACTIONS_H
#define APP_ACTIONS_H

#include <stdbool.h>
#include <stddef.h>

/* Where an action can be called; a set of bits. */
enum {
    PLACE_COMMAND = 1, /* on the command line, under its id */
    PLACE_RACK = 2,    /* the coupons of a trial */
    PLACE_CARD = 4,    /* one coupon */
    PLACE_RANKING = 8,
    PLACE_SCREENS = PLACE_RACK | PLACE_CARD | PLACE_RANKING,
};

struct action_option {
    const char *name;     /* "trial"; NULL ends the list */
    const char *argument; /* "NAME"; NULL for a switch */
    const char *help;
    bool repeats; /* may be given more than once */
};

struct action {
    const char *id;
    int places;
    const char *key;       /* on the screens: "n", "Enter", "Esc"; NULL: none */
    const char *hint;      /* in a hint line: "new coupon"; NULL: not shown there */
    const char *arguments; /* command line, behind the options: "[KEY=VALUE]..." */
    const char *summary;   /* one line, no full stop */
    const char *detail;    /* a paragraph for --help and the manual; may be NULL */
    const struct action_option *options;
    const char *example; /* a command line that works on the demo book; may be NULL */
};

const struct action *action_at(size_t i); /* NULL behind the last */
const struct action *action_find(const char *id);
/* The action a key has at a place; NULL when it has none. */
const struct action *action_for_key(const char *key, int place);

/* Options every command takes. */
extern const struct action_option action_global_options[];

#endif
