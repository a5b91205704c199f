/*
 * The terminal: started, waited on, stopped, suspended and resized. Signals (tui/signals.h) are
 * read like keys.
 */
#ifndef TUI_TERM_TERM_H
#define TUI_TERM_TERM_H

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>

#include "base/error.h"
#include "tui/term/key.h"

/* The largest screen that is drawn. Of a larger terminal the upper left part is used: curses keeps
 * every cell several times, and a terminal can claim 65535 x 65535 of them. */
enum { TERM_MAX_COLUMNS = 1000, TERM_MAX_ROWS = 500 };

struct term {
    struct screen *screen; /* of curses */
    FILE *nowhere;         /* stands in for the terminal when only a script is played */
    int signals;           /* descriptor that signals arrive on */
    sigset_t before;       /* signal mask to go back to */
    bool colour;
    bool utf8;
    bool pasting;    /* the terminal was asked to bracket what is pasted */
    int ended_by;    /* number of the signal that ends the program, 0 none */
    int empty_reads; /* in a row, though the terminal said there was something */
    char *paste;
};

/*
 * Starts the screens. `scripted`: a terminal is not needed, the script is the keyboard. Refuses
 * what is not a terminal, one that is not known, and one that cannot place the cursor.
 */
int term_start(struct term *t, bool scripted, struct error *e);
/* Gives the terminal back as it was; safe to call twice. */
void term_stop(struct term *t);

/* The next key that has already arrived; PRESS_NONE when there is none. Does not wait. */
struct key term_read(struct term *t);
/* Waits until a key or a signal arrives, at most `ms`. PRESS_TICK when nothing did, PRESS_GONE
 * when the program has to end, else PRESS_NONE: read again. Handles resizing and suspending. */
struct key term_wait(struct term *t, int ms);
/* Hears signals only, as long as a script plays: what is typed meanwhile stays for later.
 * PRESS_GONE when the program has to end, else PRESS_TICK. */
struct key term_listen(struct term *t);
/* Draws on so many cells from now on, TERM_MAX_… at most; does nothing when one is below 1. */
void term_resize(int columns, int rows);
int term_rows(void);
int term_columns(void);

#endif
