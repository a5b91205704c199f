#include "base/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

int error_set(struct error *e, enum error_kind kind, const char *format, ...)
{
    va_list args;

    if (e == NULL)
        return -1;
    e->kind = kind;
    va_start(args, format);
    vsnprintf(e->text, sizeof e->text, format, args);
    va_end(args);
    return -1;
}

int error_where(struct error *e, const char *format, ...)
{
    char told[sizeof e->text], where[sizeof e->text];
    va_list args;

    if (e == NULL)
        return -1;
    memcpy(told, e->text, sizeof told);
    va_start(args, format);
    vsnprintf(where, sizeof where, format, args);
    va_end(args);
    if (snprintf(e->text, sizeof e->text, "%s: %s", where, told) >= (int)sizeof e->text)
        e->text[sizeof e->text - 1] = '\0';
    return -1;
}
