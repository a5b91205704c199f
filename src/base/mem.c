#include "base/mem.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

_Noreturn void mem_ended(void)
{
    fputs("coldlap: out of memory\n", stderr);
    exit(4);
}

static void *must(void *block)
{
    if (block == NULL)
        mem_ended();
    return block;
}

void *mem_zero(size_t count, size_t size)
{
    return must(calloc(count ? count : 1, size ? size : 1));
}

void *mem_resize(void *block, size_t count, size_t size)
{
    size_t bytes;

    if (__builtin_mul_overflow(count, size, &bytes))
        mem_ended();
    return must(realloc(block, bytes != 0 ? bytes : 1));
}

char *mem_copy(const char *text)
{
    return text == NULL ? NULL : must(strdup(text));
}

char *mem_copy_part(const char *text, size_t bytes)
{
    return must(strndup(text, bytes));
}

char *mem_vformat(const char *format, va_list args)
{
    char *text = NULL;
    int length = vasprintf(&text, format, args);

    return must(length < 0 ? NULL : text);
}

void mem_replace(char **text, const char *by)
{
    char *copy = mem_copy(by); /* first: `by` may lie in the old one */

    free(*text);
    *text = copy;
}

char *mem_format(const char *format, ...)
{
    va_list args;
    char *text;

    va_start(args, format);
    text = mem_vformat(format, args);
    va_end(args);
    return text;
}
