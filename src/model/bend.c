/* Text codes of how a bend ended and which way it went. */
#include "model/coupon.h"

#include <stddef.h>
#include <string.h>

static const char *const ends[] = {
    [BEND_NOT_DONE] = "not_done",
    [BEND_BROKE] = "broke",
    [BEND_TORE] = "tore",
    [BEND_HELD] = "held",
};

static const char *const directions[] = {
    [BEND_DIRECTION_UNKNOWN] = "unknown",
    [BEND_ROOT_OPENING] = "root_opening",
    [BEND_FACE_OPENING] = "face_opening",
    [BEND_SIDE] = "side",
};

static bool find_code(const char *const *codes, size_t count, const char *code, size_t *out)
{
    for (*out = 0; *out < count; ++*out)
        if (code != NULL && strcmp(codes[*out], code) == 0)
            return true;
    return false;
}

const char *bend_end_code(enum bend_end end)
{
    return ends[end];
}

bool bend_end_from_code(const char *code, enum bend_end *out)
{
    size_t i;

    if (!find_code(ends, sizeof ends / sizeof *ends, code, &i))
        return false;
    *out = (enum bend_end)i;
    return true;
}

const char *bend_direction_code(enum bend_direction direction)
{
    return directions[direction];
}

bool bend_direction_from_code(const char *code, enum bend_direction *out)
{
    size_t i;

    if (!find_code(directions, sizeof directions / sizeof *directions, code, &i))
        return false;
    *out = (enum bend_direction)i;
    return true;
}
