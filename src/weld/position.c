#include "weld/position.h"

#include <string.h>
#include <strings.h>

static const struct weld_position positions[] = {
    {"PA", "1F 1G", "flat"},
    {"PB", "2F", "horizontal, fillet"},
    {"PC", "2G", "horizontal, groove"},
    {"PD", "4F", "overhead, fillet"},
    {"PE", "4G", "overhead, groove"},
    {"PF", "3F-up 3G-up", "vertical, upward"},
    {"PG", "3F-down 3G-down", "vertical, downward"},
};

const struct weld_position *position_at(size_t i)
{
    return i < sizeof positions / sizeof *positions ? &positions[i] : NULL;
}

static int among(const char *names, const char *name, size_t length)
{
    while (*names != '\0') {
        size_t size = strcspn(names, " ");

        if (size == length && strncasecmp(names, name, length) == 0)
            return 1;
        names += size + strspn(names + size, " ");
    }
    return 0;
}

const struct weld_position *position_find(const char *name)
{
    size_t length = strcspn(name, " "), i;

    for (i = 0; position_at(i) != NULL; i++)
        if (among(positions[i].iso, name, length) || among(positions[i].aws, name, length))
            return &positions[i];
    return NULL;
}
