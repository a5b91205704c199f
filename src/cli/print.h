/*
 * Printing answers, and noticing when they could not be written.
 */
#ifndef CLI_PRINT_H
#define CLI_PRINT_H

#include <stdio.h>

#include "app/page.h"
#include "base/error.h"

/* As text, as wide as the terminal (COLUMNS, else the terminal itself, else 80 cells). */
void print_page(FILE *out, const struct page *p);
/* One JSON object and a newline; releases `json`. */
void print_json(char *json);
/* Makes sure that all of stdout has been taken; a full disk or a closed pipe is an error. */
int print_flush(struct error *e);

/*
 * A file written as a whole or not at all: what is written goes to a neighbour that takes the name
 * of `path` only when file_close() finds everything well. A device or a pipe is written into
 * directly. "-" and NULL mean stdout.
 */
struct file_out {
    FILE *out;
    const char *name;  /* as given; NULL for stdout */
    char *path, *part; /* NULL unless a neighbour is written */
};
int file_open(struct file_out *f, const char *path, struct error *e);
int file_close(struct file_out *f, struct error *e);
void file_drop(struct file_out *f); /* gives up; safe after file_close() */

#endif
