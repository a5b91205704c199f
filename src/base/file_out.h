/*
 * A file written as a whole or not at all, and never over something that is not to be lost. What is
 * written goes to a neighbour that takes the name only when file_close() finds everything well. A
 * device or a pipe is written into directly.
 */
#ifndef BASE_FILE_OUT_H
#define BASE_FILE_OUT_H

#include <stdbool.h>
#include <stdio.h>
#include <sys/types.h>

#include "base/error.h"

struct file_out {
    FILE *out;
    const char *name;  /* as given; NULL for stdout */
    char *path, *part; /* NULL unless a neighbour is written */
    bool replace;      /* a file that is there already may be replaced */
    mode_t others;     /* permissions of the book: a new file gives others no more */
};

/*
 * "-" and NULL mean stdout. Refused with ERROR_INPUT: `book` (the path of the open book, or NULL)
 * and the files SQLite keeps beside it, under whatever name; any other database, or what belongs to
 * one; and, unless `replace`, whatever is there already. ERROR_SYSTEM: it cannot be made. After an
 * error there is nothing to close. `path` is kept until file_close() or file_drop().
 */
int file_open(struct file_out *f, const char *path, const char *book, bool replace,
              struct error *e);
/* Right behind the last write, whose errno it may have to tell. Gives the file its name.
 * ERROR_SYSTEM when it could not be written, ERROR_INPUT when another program has made one of that
 * name meanwhile; the name then stands for what it did before. */
int file_close(struct file_out *f, struct error *e);
void file_drop(struct file_out *f); /* gives up; safe after file_close() */

#endif
