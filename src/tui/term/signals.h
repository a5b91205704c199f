/*
 * Signals while the screens run. Those that end a program by default, and the two about the
 * terminal, are blocked and read from a descriptor, so that the program can keep a draft and stop
 * in order. A crash cannot wait: its handler gives the terminal back at once, then the signal
 * strikes again.
 */
#ifndef TUI_TERM_SIGNALS_H
#define TUI_TERM_SIGNALS_H

#include <signal.h>
#include <stdbool.h>

#include "base/error.h"

/*
 * Blocks the signals, stores the former mask in *before, and returns the descriptor they arrive on,
 * which the caller closes; -1 with ERROR_SYSTEM. Signals that are ignored stay ignored, those with
 * a handler keep it. Call before the terminal is changed: its modes are remembered for a crash.
 */
int signals_catch(sigset_t *before, struct error *e);
#define SIGNALS_WORDS "what was not saved is kept in %s and is offered at the next start"
/* Where what is not saved lies, for the words on stderr of a crash; copied. NULL: nothing is. */
void signals_words(const char *where);
/* From here on a crash has (or no longer has) a terminal to give back. Needs a started curses. */
void signals_terminal_taken(bool taken);
/* Ends the program by the signal that ended the screens. Returns when that signal is ignored. */
void signals_end_by(int number);

#endif
