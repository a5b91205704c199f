/*
 * Folders for what the program keeps for itself: $XDG_STATE_HOME/coldlap/NAME, or
 * ~/.local/state/coldlap/NAME where that is not set.
 */
#ifndef BASE_STATE_FOLDER_H
#define BASE_STATE_FOLDER_H

#include "base/error.h"

/* The path of one, which may not be there yet. NULL with ERROR_SYSTEM when neither variable says
 * where. The caller frees it. */
char *state_folder_path(const char *name, struct error *e);
/* Makes a folder and those above it that are missing, for the user alone (0700). 0, or -1 with
 * ERROR_SYSTEM. */
int state_folder_make(const char *path, struct error *e);

#endif
