/* Questions in a box over the screen: choose one of several, or write a line. */
#ifndef TUI_WIDGET_PROMPT_H
#define TUI_WIDGET_PROMPT_H

#include <stdbool.h>
#include <stddef.h>

#include "tui/widget/layers.h"

struct choice {
    wchar_t key; /* pressed, it chooses at once; 0 none */
    const char *text;
};

/* Asks until one is chosen; `first` has the focus. Returns its index, or -1 when the question was
 * left with Esc or the program is ending. */
int prompt_pick(struct ui *ui, const char *question, const struct choice *choices, size_t count,
                size_t first);
/* Yes or no; Esc is no. */
bool prompt_yes(struct ui *ui, const char *question);
/* A line of text, starting with `initial` (may be NULL). NULL when left with Esc; else the caller
 * frees it. `help` (may be NULL) stands below. */
char *prompt_text(struct ui *ui, const char *question, const char *help, const char *initial);
/* The same; `heard` is told what is written so far, at the start, after every key and at every tick
 * of the clock. */
typedef void prompt_listener(void *ctx, const char *text);
char *prompt_text_heard(struct ui *ui, const char *question, const char *help, const char *initial,
                        prompt_listener *heard, void *ctx);

#endif
