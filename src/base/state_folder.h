/*
 * Folders for what the program keeps for itself: $XDG_STATE_HOME/coldlap/NAME, or
 * ~/.local/state/coldlap/NAME where that is not set.
 */
#ifndef BASE_STATE_FOLDER_H
#define BASE_STATE_FOLDER_H

#include "base/error.h"

#define STATE_FOLDER_MODE 0700

/* The path of one, which may not be there yet (made with STATE_FOLDER_MODE: it is for the user
 * alone). NULL with ERROR_SYSTEM when neither variable says
 * where. The caller frees it. */
char *state_folder_path(const char *name, struct error *e);

#endif
