/* The screens, from start to end. */
#ifndef TUI_TUI_H
#define TUI_TUI_H

#include <stdbool.h>

#include "base/error.h"
#include "model/units.h"

struct tui_options {
    const char *book; /* NULL: COLDLAP_BOOK, else the default book; made when missing */
    bool units_given; /* show numbers in `units` this once */
    enum unit_system units;
    const char *keys; /* a script to play first (tui/script.h); NULL: keyboard only. Without a
                         terminal the script is all there is, and its end is the end. */
};

/* Returns 0 when the user has left, -1 with the reason when it could not run, or when the system
 * refused something while a script was playing, such as a save (ERROR_SYSTEM). A signal that ended
 * the screens then ends the program; where that signal is ignored (a lost line under nohup) it
 * returns 128 and its number. The terminal is back as it was in every case. */
int tui_run(const struct tui_options *options, struct error *e);

#endif
