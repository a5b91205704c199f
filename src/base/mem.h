/*
 * Memory. Running out of it ends the program with a message: none of these returns NULL, so callers
 * need no path for it. Everything is released with free().
 */
#ifndef BASE_MEM_H
#define BASE_MEM_H

#include <stdarg.h>
#include <stddef.h>

/* Zeroed; count 0 gives a valid pointer. */
void *mem_zero(size_t count, size_t size) __attribute__((returns_nonnull));
/* Like realloc, overflow checked. */
void *mem_resize(void *block, size_t count, size_t size) __attribute__((returns_nonnull));
char *mem_copy(const char *text);                    /* NULL stays NULL */
char *mem_copy_part(const char *text, size_t bytes); /* at most `bytes`, closed by a NUL */
void mem_replace(char **text, const char *by);       /* a copy of `by` in place of what is freed */
char *mem_format(const char *format, ...) __attribute__((format(printf, 1, 2)));
char *mem_vformat(const char *format, va_list args) __attribute__((format(printf, 1, 0)));

/* Ends the program as these do, with exit code 4, for libraries that report a lack of memory. */
_Noreturn void mem_ended(void);

#endif
