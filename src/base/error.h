/*
 * What went wrong, in one line a user can act on: what, where, and what would be right.
 *
 * A function that can fail takes a `struct error *` last and returns 0, or a negative number with
 * the error filled in. The kind decides the exit code of the command line.
 */
#ifndef BASE_ERROR_H
#define BASE_ERROR_H

enum error_kind {
    ERROR_NONE,
    ERROR_INPUT,  /* a value, a file or a book that cannot be taken as it is */
    ERROR_USAGE,  /* a command that was not understood */
    ERROR_ANSWER, /* a question the book cannot answer */
    ERROR_SYSTEM, /* file, disk, terminal, another process */
};

struct error {
    enum error_kind kind;
    char text[512];
};

/* Fills in `e` (which may be NULL) and returns -1, so that callers can write `return error_set()`.
 */
int error_set(struct error *e, enum error_kind kind, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Puts "where: " before the text of an error already set, and returns -1. */
int error_where(struct error *e, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
