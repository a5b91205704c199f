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

#endif
