/*
 * A keyboard on paper: a file of steps, one taken each time the program is idle, so that whoever
 * plays it never has to wait. One step a line:
 *
 *     key Down Down Enter      keys by name, or single characters
 *     text 5/16 in             every character to the end of the line
 *     paste some words         the same, as one paste
 *     resize 100x30            columns x rows, at most 1000x500
 *     save FILE                the screen as text into FILE
 *     save-looks FILE          the screen as text, then its attributes, then the cursor
 *     save --force FILE        the same into a file that is there already
 *     # anything               a remark
 */
#ifndef TUI_TERM_SCRIPT_H
#define TUI_TERM_SCRIPT_H

#include <stdbool.h>

#include "base/error.h"
#include "tui/term/key.h"

struct script; /* opaque */

/* Reads and checks the whole file; the line of a mistake is named. */
int script_load(const char *path, struct script **out, struct error *e);
void script_free(struct script *s); /* NULL is fine */

/* Takes one step; `book` is the path of the open book, which no step overwrites. A key is returned;
 * the other steps are done and give PRESS_NONE. PRESS_GONE with `e` set when a step fails. Call
 * only while script_more(). */
struct key script_step(struct script *s, const char *book, struct error *e);
bool script_more(const struct script *s);

#endif
