/* Making folders, and putting on the disk what they list. */
#ifndef BASE_FOLDER_H
#define BASE_FOLDER_H

#include <sys/types.h>

#include "base/error.h"

/* Makes a folder and those above it that are missing, with this mode as the umask leaves it. 0, or
 * -1 with ERROR_SYSTEM. */
int folder_make(const char *path, mode_t mode, struct error *e);
/* The same for the folder that `path` lies in. */
int folder_make_above(const char *path, mode_t mode, struct error *e);

/* A file that was renamed to `path` is there after a power cut only when its folder has been
 * written too. -1 with errno when that failed; where it cannot be asked for that is no failure. */
int folder_sync_above(const char *path);

#endif
