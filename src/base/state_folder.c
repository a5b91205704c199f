#include "base/state_folder.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/mem.h"

/* By its specification a relative XDG_STATE_HOME is ignored. */
char *state_folder_path(const char *name, struct error *e)
{
    const char *state = getenv("XDG_STATE_HOME"), *home = getenv("HOME");

    if (state != NULL && *state == '/')
        return mem_format("%s/coldlap/%s", state, name);
    if (home != NULL && *home != '\0')
        return mem_format("%s/.local/state/coldlap/%s", home, name);
    error_set(e, ERROR_SYSTEM, "neither XDG_STATE_HOME nor HOME is set");
    return NULL;
}

int state_folder_make(const char *path, struct error *e)
{
    char *copy = mem_copy(path), *slash = copy;
    int rc = 0;

    do {
        slash = strchr(slash + 1, '/');
        if (slash != NULL)
            *slash = '\0';
        if (mkdir(copy, 0700) != 0 && errno != EEXIST)
            rc = error_set(e, ERROR_SYSTEM, "%s: the folder cannot be made: %s", copy,
                           strerror(errno));
        if (slash != NULL)
            *slash = '/';
    } while (rc == 0 && slash != NULL);
    free(copy);
    return rc;
}
