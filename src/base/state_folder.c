#include "base/state_folder.h"

#include <stdlib.h>

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
